//! The wanted beer: targets, grist, hops, liquor, rests, yeast.
