"""What a program needs of the disk to lose nothing: locks, exchanges, moments not to stop in."""
