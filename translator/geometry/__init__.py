"""What follows from a part by geometry: outlines, areas, mass, stops, identity."""
