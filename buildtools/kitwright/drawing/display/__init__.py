"""The finished cards as they are shown elsewhere: on a plain ground, at the shapes that video and social places take."""
