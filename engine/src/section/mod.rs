//! (map to come)
