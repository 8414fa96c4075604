"""What the demonstration bays are made from: tables, bed, wind and plain texts."""
