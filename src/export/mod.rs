//! From a finished set to files: one file a format.
