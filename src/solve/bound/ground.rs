//! Chains, with all that makes a look at them quick.

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::{self, Look};
use super::memory::Memory;
use super::pairs::Pairs;
use super::stays::{self, Begun, Field};
use crate::solve::problem::Problem;

/// Most that is kept in a look: labels of some 100 bytes, and costs of stays, of 8 bytes.
#[derive(Clone, Copy)]
pub struct Most {
    /// Labels.
    pub labels: usize,
    /// Costs.
    pub costs: usize,
}

/// Chains, and what is the same of them at any prices.
#[derive(Default)]
pub struct Ground {
    /// The chains.
    pub chains: Vec<Chain>,
    fields: Option<Vec<Field>>,
    /// What was begun at the prices of the last look.
    begun: Option<Begun>,
}

impl Ground {
    /// Chains of courses whose strips serve one course each.
    pub fn new(problem: &Problem, pairs: &Pairs, chains: Vec<Chain>) -> Ground {
        let field = |chain| Field::new(problem, pairs, chain);
        Ground {
            fields: chains.iter().map(field).collect(),
            chains,
            begun: None,
        }
    }

    /// Whether paths can be found by whole stays.
    pub fn has_stays(&self) -> bool {
        self.fields.is_some()
    }

    /// How many nodes there are.
    pub fn nodes(&self) -> usize {
        let links = self.chains.iter().flat_map(|chain| &chain.links);
        links.map(|link| link.nodes.len()).sum()
    }

    /// A look by stays where that can be, and otherwise by labels.
    pub fn look(
        &mut self,
        terms: &Terms,
        rungs: &[&Memory],
        limit: f64,
        most: Most,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Look {
        let (Some(fields), Some(forgets)) = (&self.fields, rungs.first()) else {
            return self.look_by_labels(terms, rungs, limit, most.labels, stop);
        };
        let known = self.begun.take().filter(|begun| begun.is_at(terms.prices));
        let begun = known.or_else(|| Begun::new(&self.chains, fields, terms, forgets, stop));
        let Some(begun) = begun else {
            return Look::Stopped;
        };
        let look = stays::look(fields, &begun, terms, rungs, limit, most.costs, stop);
        self.begun = Some(begun);
        look
    }

    /// A look by labels, which can remember slice by slice.
    pub fn look_by_labels(
        &self,
        terms: &Terms,
        rungs: &[&Memory],
        limit: f64,
        most: usize,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Look {
        ladder::look(&self.chains, terms, rungs, limit, most, stop)
    }
}
