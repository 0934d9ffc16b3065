//! What a text says and what it doesn't, asked so that a failing test shows the text.

/// A text that a person reads: a page, what a command said, a complaint.
pub trait Says {
    /// Stops the test if the text isn't just these words.
    fn is(&self, words: &str);

    /// Stops the test if these words don't stand in the text.
    fn says(&self, words: &str);

    /// Stops the test if the text doesn't begin with these words.
    fn begins(&self, words: &str);

    /// Stops the test if these words stand in the text.
    fn lacks(&self, words: &str);
}

impl Says for str {
    #[track_caller]
    fn is(&self, words: &str) {
        assert_eq!(self, words);
    }

    #[track_caller]
    fn says(&self, words: &str) {
        assert!(self.contains(words), "{words:?} is missing in: {self}");
    }

    #[track_caller]
    fn begins(&self, words: &str) {
        assert!(self.starts_with(words), "{words:?} doesn't begin: {self}");
    }

    #[track_caller]
    fn lacks(&self, words: &str) {
        assert!(!self.contains(words), "{words:?} stands in: {self}");
    }
}
