"""`python -m rosette`: the same as the command `rosette`."""

from rosette.cli import main

if __name__ == "__main__":
    main(prog_name="rosette")
