//! What the vessels are: section, wall, heat loss, burner, chiller, plumbing, instruments, cautions.
