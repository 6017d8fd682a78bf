//! The rules that a profile can break.

use crate::diagnostic::rules;

rules! {
    PROFILE_SYNTAX = "profile-syntax": "a profile is not TOML, or too large";
    PROFILE_KEY = "profile-key": "a profile has a key that nothing reads, or lacks one";
    PROFILE_VALUE = "profile-value": "a profile has a value that its key cannot take";
    PROFILE_PASSED_OVER = "profile-passed-over": "a profile that others may write is not read";
}
