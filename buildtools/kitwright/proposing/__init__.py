"""From sheets to layouts: what a maker has and wishes goes in, fronts that come out of her sheets exactly and add up on the card come out; values only."""
