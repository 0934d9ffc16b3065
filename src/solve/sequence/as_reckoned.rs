//! A sequence that is laid costs what was reckoned before any strip was decided.

use super::Sequences;
use crate::solve::jobs;
use crate::solve::problem::Problem;
use crate::solve::rng::stream;

/// How many of the best sequences are laid.
const SEQUENCES: usize = 10;

#[test]
fn a_sequence_costs_what_was_reckoned() {
    let mut laid = 0;
    for seed in 1..4 {
        let job = jobs::three_panels(seed);
        let problem = Problem::new(&job);
        let sequences = Sequences::new(&problem);
        let nodes = sequences.nodes.last().into_iter().flatten();
        for node in nodes.take(SEQUENCES) {
            let runs = sequences.runs_of(*node);
            let before = |i: usize| runs[..i].iter().flat_map(|(s, n)| &s.laid[..n.length]);
            let clash = (0..runs.len()).any(|i| {
                let before: Vec<_> = before(i).cloned().collect();
                runs[i].0.clashes(&problem, runs[i].1.first, &before)
            });
            if clash {
                continue;
            }
            let state = sequences.laid(&runs, &mut stream(1, 0), &|| false);
            assert!(state.is_covered(), "seed {seed}");
            let (cost, reckoned) = (state.cost(), node.least());
            assert!(
                (cost - reckoned).abs() < 1e-6,
                "seed {seed}: {cost}, reckoned {reckoned}"
            );
            laid += 1;
        }
    }
    assert!(laid >= SEQUENCES, "only {laid} could be held against it");
}
