"""What is read from and written to the disk: plain files, whole or not, and scratch."""
