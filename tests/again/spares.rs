//! What must not break, against figures from outside.

use super::asked;
use super::common::boat;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use twinstrake::hull::Toward;
use twinstrake::job::Job;
use twinstrake::solve::{Care, Effect, Loss, Progress, Quiet, Stakes, Watch, lay};

/// Three courses of one piece each, and so many pairs of one board each; no joints, so that a strip serves once.
fn pairs(pairs: usize) -> Job {
    let mut boat = boat().panel("side", Toward::Keel).courses(3, 0.0, 3000.0);
    for i in 0..pairs {
        boat = boat.board(&format!("board{i}"), 2, 3100.0, 5);
    }
    let mut job = boat.build();
    job.rules.joints.most = 0;
    job.earlier = Some(lay(&job, &asked(1), &Quiet).plan);
    job
}

/// What every loss does, in full.
fn losses(job: &Job, seed: u64) -> Vec<Loss> {
    let stakes = Stakes::of(job);
    stakes.in_full(stakes.roughly(seed, &Quiet), seed, &Quiet, &|_| {})
}

/// The chance that at most so many of `n` strips break, each with probability `p`.
fn at_most(most: u32, n: u32, p: f64) -> f64 {
    let choose = |k: u32| (0..k).fold(1.0, |c, i| c * f64::from(n - i) / f64::from(i + 1));
    (0..=most)
        .map(|k| choose(k) * p.powi(k as i32) * (1.0 - p).powi((n - k) as i32))
        .sum()
}

#[test]
fn with_one_spare_pair_the_chance_is_the_binomial_one() {
    // Four pairs for three courses: eight strips of which six are needed, and any two can be mates. It closes as long
    // as no more than two break.
    let job = pairs(4);
    for p in [0.05, 0.2, 0.5] {
        let chance = Stakes::of(&job).chance(p, 4000, 7, &Quiet);
        let exact = at_most(2, 8, p);
        assert!(
            (chance.closes - exact).abs() < 4.0 * chance.error.max(0.002),
            "p {p}: {} against {exact}",
            chance.closes
        );
        let error = (exact * (1.0 - exact) / 4000.0).sqrt();
        assert!((chance.error - error).abs() < 0.2 * error);
    }
}

#[test]
fn without_a_spare_no_strip_may_break() {
    let job = pairs(3);
    let chance = Stakes::of(&job).chance(0.1, 4000, 7, &Quiet);
    assert!((chance.closes - 0.9f64.powi(6)).abs() < 4.0 * chance.error);
    let losses = losses(&job, 1);
    assert_eq!(losses.len(), 6);
    for loss in losses {
        assert_eq!(loss.effect, Effect::NoSpare);
        assert_eq!(loss.open.len(), 1);
    }
}

#[test]
fn where_nothing_ever_breaks_the_boat_closes() {
    let job = pairs(3);
    let chance = Stakes::of(&job).chance(0.0, 500, 1, &Quiet);
    assert_eq!((chance.closes, chance.error), (1.0, 0.0));
}

#[test]
fn with_a_spare_pair_every_loss_is_covered_and_the_spare_is_named() {
    let job = pairs(4);
    let used: Vec<_> = job
        .earlier
        .as_ref()
        .unwrap()
        .pieces
        .iter()
        .map(|p| p.strip)
        .collect();
    for loss in losses(&job, 1) {
        assert_ne!(loss.effect, Effect::NoSpare);
        assert!(!loss.replacement.is_empty());
        assert!(loss.replacement.iter().all(|strip| !used.contains(strip)));
        assert!(used.contains(&loss.strip));
    }
}

#[test]
fn the_figures_don_t_depend_on_the_threads() {
    let job = pairs(4);
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| {
            (
                losses(&job, 3),
                Stakes::of(&job).chance(0.2, 300, 3, &Quiet),
            )
        })
    };
    assert_eq!(on(1), on(3));
}

/// Ends it after it was asked so many times whether to.
struct After(AtomicUsize);

impl Watch for After {
    fn progress(&self, _: &Progress) {}
    fn stop(&self) -> bool {
        let less = |left: usize| left.checked_sub(1);
        self.0.fetch_update(Relaxed, Relaxed, less).is_err()
    }
}

#[test]
fn when_it_is_ended_early_strips_keep_the_rough_answer_and_lots_that_were_drawn_count() {
    let job = pairs(4);
    let stakes = Stakes::of(&job);
    let rough = stakes.roughly(1, &Quiet);
    assert_eq!((rough.len(), stakes.strips()), (6, 6));
    // A spare pair closes the course at once, as it does in full.
    assert!(rough.iter().all(|loss| loss.effect != Effect::NoSpare));
    let ended = || After(AtomicUsize::new(0));
    assert_eq!(stakes.in_full(rough.clone(), 1, &ended(), &|_| {}), rough);
    assert!(rough.iter().all(|loss| loss.care == Care::Short));
    assert!(losses(&job, 1).iter().all(|loss| loss.care == Care::Full));
    assert!(stakes.roughly(1, &ended()).is_empty());
    assert_eq!(stakes.chance(0.2, 300, 1, &ended()).samples, 0);
    let drawn = stakes.chance(0.0, 300, 1, &After(AtomicUsize::new(40)));
    assert!(drawn.samples > 0 && drawn.samples < 300 && drawn.closes > 0.99);
}
