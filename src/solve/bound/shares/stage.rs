//! Costs of a board at one course.

/// Costs at one course: by level, and for each by the wood used so far.
pub struct Stage {
    /// So many costs for each level.
    pub width: usize,
    /// The costs.
    pub costs: Vec<f64>,
}

impl Stage {
    /// Nothing reached yet.
    pub fn new(levels: usize, width: usize) -> Stage {
        Stage {
            width,
            costs: vec![f64::INFINITY; levels * width],
        }
    }

    /// The costs of a level, by the wood used.
    pub fn of(&self, level: usize) -> &[f64] {
        &self.costs[level * self.width..(level + 1) * self.width]
    }

    /// The same, to be lowered.
    pub fn of_mut(&mut self, level: usize) -> &mut [f64] {
        &mut self.costs[level * self.width..(level + 1) * self.width]
    }
}

/// Lowers costs to others that are so much dearer than said, where those are less.
pub fn lower(to: &mut [f64], from: &[f64], by: f64) {
    for (to, from) in to.iter_mut().zip(from) {
        let cost = from + by;
        *to = if cost < *to { cost } else { *to };
    }
}
