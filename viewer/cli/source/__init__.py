"""What a scene is begun from: a building model, a plan, or what a person says."""
