"""Rooms taken over from other files, with a finding for whatever was left out."""
