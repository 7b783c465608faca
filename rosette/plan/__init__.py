"""Design → Plan: the numbers of the whole job, before any drawing or solid."""

from rosette.plan.make import make_plan
from rosette.plan.model import Plan

__all__ = ["Plan", "make_plan"]
