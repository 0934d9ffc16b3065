//! Chains, with all that makes a look at them quick.

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::{self, Look};
use super::memory::Memory;
use super::stays::{self, Begun, Field};
use std::cell::OnceCell;

/// Most that is kept in a look: labels of some 100 bytes, and costs of stays, of 8 bytes.
#[derive(Clone, Copy)]
pub struct Most {
    /// Labels.
    pub labels: usize,
    /// Costs.
    pub costs: usize,
}

/// Chains, and what is the same of them at any prices.
pub struct Ground {
    /// The chains.
    pub chains: Vec<Chain>,
    most: Most,
    /// Worked out when first needed, which takes a while and may never be; `None` where the chains have too many ways through some board.
    fields: OnceCell<Option<Vec<Field>>>,
    /// What was begun at the prices of the last look.
    begun: Option<Begun>,
}

impl Ground {
    /// Chains of courses whose strips serve one course each.
    pub fn new(chains: Vec<Chain>, most: Most) -> Ground {
        Ground {
            chains,
            most,
            fields: OnceCell::new(),
            begun: None,
        }
    }

    /// Whether paths can be found by whole stays.
    pub fn has_stays(&self, terms: &Terms) -> bool {
        self.fields(terms).is_some()
    }

    fn fields(&self, terms: &Terms) -> Option<&[Field]> {
        let field = |chain| Field::new(terms.problem, terms.pairs, chain);
        let fields = self
            .fields
            .get_or_init(|| self.chains.iter().map(field).collect());
        fields.as_deref()
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
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Look {
        let begun = self.begun.take();
        let (Some(fields), Some(forgets)) = (self.fields(terms), rungs.first()) else {
            return self.look_by_labels(terms, rungs, limit, stop);
        };
        let known = begun.filter(|begun| begun.is_at(terms.prices));
        let begun = known.or_else(|| Begun::new(&self.chains, fields, terms, forgets, stop));
        let Some(begun) = begun else {
            return Look::Stopped;
        };
        let look = stays::look(fields, &begun, terms, rungs, limit, self.most.costs, stop);
        self.begun = Some(begun);
        look
    }

    /// A look by labels, which can remember slice by slice.
    pub fn look_by_labels(
        &self,
        terms: &Terms,
        rungs: &[&Memory],
        limit: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Look {
        ladder::look(&self.chains, terms, rungs, limit, self.most.labels, stop)
    }
}
