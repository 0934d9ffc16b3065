//! The word that lets a phone in.

use rand::TryRng;
use rand::rngs::{SysError, SysRng};
use std::fmt::Write;
use std::time::{SystemTime, UNIX_EPOCH};
use subtle::ConstantTimeEq;

/// Its length in bytes: 128 bits can't be guessed.
const BYTES: usize = 16;

/// A new one, in lower-case hexadecimal, from the system's own source of chance.
///
/// Errors: the system has none.
pub fn fresh() -> Result<String, SysError> {
    let mut bytes = [0; BYTES];
    SysRng.try_fill_bytes(&mut bytes)?;
    let mut text = String::with_capacity(2 * BYTES);
    for byte in bytes {
        // Writing to a text can't fail.
        let _ = write!(text, "{byte:02x}");
    }
    Ok(text)
}

/// A key for an entry, which a form carries: that of the job, and one that does not come twice.
pub fn key(job: &str) -> String {
    let own = fresh().unwrap_or_else(|_| {
        let now = SystemTime::now().duration_since(UNIX_EPOCH);
        now.map_or(0, |since| since.as_nanos()).to_string()
    });
    format!("{job}{own}")
}

/// Whether what was sent is the word. It takes as long whatever was sent.
pub fn is(word: &str, sent: &str) -> bool {
    word.as_bytes().ct_eq(sent.as_bytes()).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_doors_have_two_words_and_only_the_whole_word_opens() {
        let (one, other) = (fresh().unwrap(), fresh().unwrap());
        assert_eq!((one.len(), other.len()), (32, 32));
        assert_ne!(one, other);
        assert!(is(&one, &one));
        assert!(!is(&one, &other) && !is(&one, "") && !is(&one, &one[..31]));
    }
}
