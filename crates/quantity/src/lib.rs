//! Units and scales: reading and writing quantities, with honest digits.
