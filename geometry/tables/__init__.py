"""Published figures: threads, washers, nuts, sockets, patterns."""
