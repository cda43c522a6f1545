"""The Spring page: the coil to scale, its stresses, its surge, and the search for a wire."""
