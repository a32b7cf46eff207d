//! A person's file read with places: findings, suggestions, schema; knows no brewing.
