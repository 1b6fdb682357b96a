"""Where holes may be drilled: areas on the faces."""
