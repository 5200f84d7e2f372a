"""Windows that open over the desk."""
