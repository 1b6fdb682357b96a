"""The isometric picture of transom, well, bolts and brackets, as lines with the hidden ones left out."""
