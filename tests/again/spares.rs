//! What must not break, against figures from outside.

use super::asked;
use super::common::boat;
use twinstrake::hull::Toward;
use twinstrake::job::Job;
use twinstrake::solve::{Effect, Quiet, chance, lay, losses};

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
        let chance = chance(&job, p, 4000, 7);
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
    let chance = chance(&job, 0.1, 4000, 7);
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
    let chance = chance(&pairs(3), 0.0, 500, 1);
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
        pool.install(|| (losses(&job, 3), chance(&job, 0.2, 300, 3)))
    };
    assert_eq!(on(1), on(3));
}
