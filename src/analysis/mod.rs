//! Numbers from a study and its readings; the one place where numbers are made.
