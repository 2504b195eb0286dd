"""Live evidence: samples from instruments that speak an open protocol, kept before they are believed."""
