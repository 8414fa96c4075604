"""Files in: a reader is handed a path and ends in our types, SI and UTC."""
