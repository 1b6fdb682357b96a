"""What a person describes: the transom, its well, the motor and the choices made."""
