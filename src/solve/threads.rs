//! Threads of our own, so many as are asked for.

/// Does the work on so many threads, one a core where no number is asked for. What comes out must not depend on it.
pub fn on_threads<T: Send>(threads: Option<usize>, work: impl FnOnce() -> T + Send) -> T {
    let threads = threads.unwrap_or(0);
    match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
        Ok(pool) => pool.install(work),
        // No threads of our own to be had: the caller's will do.
        Err(_) => work(),
    }
}
