"""The planning page: shaft length, weight and trim, power and persons, cables and hoses, before a motor is bought."""
