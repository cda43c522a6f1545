"""The bench picture: a drawing to scale and the load plot on one height scale."""
