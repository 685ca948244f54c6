"""What is written about a picture: signs, badges, captions, the list, its layout."""
