//! Numbers and lengths as people type them into cells.
