"""The drill-angle gauge and the guide block."""
