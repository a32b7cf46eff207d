//! What is in the vessels: water, wort, malt, hop, liquor; pure property functions.
