//! Two ways to the same paths: found from stay to stay and label by label, they cost the same.

use super::chain::Chain;
use super::ground::{Ground, Most};
use super::labels::Terms;
use super::ladder::Look;
use super::memory::Memory;
use super::pairs::Pairs;
use super::prices::Prices;
use super::prover::is_likely;
use super::slope::slope;
use crate::hull::Kind;
use crate::job::Job;
use crate::solve::jobs;
use crate::solve::problem::Problem;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

const MOST: Most = Most {
    labels: 10_000_000,
    costs: 100_000_000,
};

fn value(look: Look) -> Option<f64> {
    match look {
        Look::Bound(value, _) => Some(value),
        _ => None,
    }
}

/// Holds the two against each other at prices that follow the slope, as they do in earnest; gives back how many looks there were.
fn hold_against_each_other(job: &Job, likely: bool, dice: &mut Pcg64Mcg) -> usize {
    let problem = Problem::new(job);
    let Some(pairs) = Pairs::new(&problem, false) else {
        panic!("too large a job");
    };
    let chains = Chain::all(&problem, &pairs);
    let keep = |chain: &Chain| chain.only(&pairs, |pair| !likely || is_likely(&problem, pair));
    let chains: Vec<Chain> = chains.iter().map(keep).collect();
    let mut ground = Ground::new(chains, MOST);
    let mut prices = Prices::none(&pairs, vec![1.0; problem.woods.len()]);
    let (runs, near) = (Memory::of_near(&pairs, 0), Memory::of_near(&pairs, 1));
    let all = Memory::of_near(&pairs, dice.random_range(1..4));
    let mut looks = 0;
    for _ in 0..4 {
        for rungs in [&[&runs][..], &[&runs, &near], &[&runs, &near, &all]] {
            let terms = Terms {
                problem: &problem,
                pairs: &pairs,
                prices: &prices,
                memory: &all,
            };
            assert!(ground.has_stays(&terms));
            let by_stays = ground.look(&terms, rungs, 1e9, &|| false);
            let by_labels = ground.look_by_labels(&terms, rungs, 1e9, &|| false);
            let (Some(one), Some(other)) = (value(by_stays), value(by_labels)) else {
                panic!("no path");
            };
            assert!((one - other).abs() < HAIR, "{one} {other}");
            // Below what the cheapest path costs there is none, and a hair above it is found.
            for (limit, found) in [(one - 1e-6, false), (one + 1e-6, true)] {
                let look = ground.look(&terms, rungs, limit, &|| false);
                assert_eq!(value(look).is_some(), found, "{one}");
            }
            looks += 1;
        }
        let terms = Terms {
            problem: &problem,
            pairs: &pairs,
            prices: &prices,
            memory: &all,
        };
        let rungs = [&runs, &near, &all];
        let Look::Bound(_, paths) = ground.look(&terms, &rungs, 1e9, &|| false) else {
            panic!("no path");
        };
        let slope = slope(&terms, &ground.chains, &paths);
        prices.step(&slope, dice.random_range(1.0..30.0));
    }
    looks
}

const HAIR: f64 = 1e-7;

#[test]
fn paths_by_stays_cost_what_paths_by_labels_do() {
    let mut dice = Pcg64Mcg::seed_from_u64(1);
    let mut looks = 0;
    for seed in 0..6 {
        let mut job = jobs::full_length(9, 12, seed);
        if seed % 2 == 1 {
            job.hull.courses[8].kind = Kind::Centre;
        }
        looks += hold_against_each_other(&job, seed < 4, &mut dice);
    }
    assert_eq!(looks, 72);
}

#[test]
fn odd_pairs_taken_out_of_a_broad_boards_crew_make_paths_no_dearer() {
    for seed in 0..3 {
        // Sixteen strips can be paired in too many ways: not all pairs are in their board's crew.
        let problem = Problem::new(&jobs::full_length_from(8, 24, 16, seed));
        let Some(pairs) = Pairs::new(&problem, false) else {
            panic!("too large a job");
        };
        let chains = Chain::all(&problem, &pairs);
        let likely = |chain: &Chain| chain.only(&pairs, |pair| is_likely(&problem, pair));
        let likely: Vec<Chain> = chains.iter().map(likely).collect();
        let prices = Prices::none(&pairs, vec![1.0; problem.woods.len()]);
        let (runs, near) = (Memory::of_near(&pairs, 0), Memory::of_near(&pairs, 1));
        let terms = Terms {
            problem: &problem,
            pairs: &pairs,
            prices: &prices,
            memory: &near,
        };
        let of = |chains: Vec<Chain>| {
            let mut ground = Ground::new(chains, MOST);
            value(ground.look(&terms, &[&runs, &near], 1e9, &|| false))
        };
        let (Some(all), Some(likely)) = (of(chains), of(likely)) else {
            panic!("no path");
        };
        assert!(0.0 < all && all < likely + HAIR, "{all} {likely}");
    }
}
