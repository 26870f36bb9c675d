"""How things are held, as pictures: a pocket and what goes in, a shaker and a cut through it, a belly band."""
