//! Pictures.
