"""The design: the transom, its well, the motor, and the choices made."""
