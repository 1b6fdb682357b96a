"""Pictures that teach: what to measure, with the tool laid where it is to be laid."""
