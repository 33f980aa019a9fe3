"""Voxel model of a jaw segment, its canals, the beam and the sensor: the parts of the second generator of simulated films."""
