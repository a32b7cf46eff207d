//! What happens in the vessels: rates of mash, lauter, boil, isomerise, chill; knows no clock.
