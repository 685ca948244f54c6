"""What must fit together in a scene, beyond what each value shows by itself."""
