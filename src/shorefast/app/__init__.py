"""What stands between the sums and the people: answers, command line, caches."""
