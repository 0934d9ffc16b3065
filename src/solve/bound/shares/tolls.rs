//! Prices on what boards cover, and tolls where they end.

/// How much more weight what is common to many entries of a slope gets.
const COMMON: f64 = 10.0;

/// For each board: what a metre of each course is worth, and what a metre of its edge costs.
#[derive(Clone, Debug)]
pub struct Tolls {
    courses: usize,
    /// By board, then course of the field. Unit: ΔE00, either sign.
    prices: Vec<f64>,
    /// By board, then seam of the field, as many as courses. Unit: ΔE00, never below nothing.
    edges: Vec<f64>,
    /// By course, what a board pays that covers a part of it. Unit: ΔE00·metre, never below nothing.
    parts: Vec<f64>,
}

impl Tolls {
    /// None at all.
    pub fn none(boards: usize, courses: usize) -> Tolls {
        Tolls {
            courses,
            prices: vec![0.0; courses * boards],
            edges: vec![0.0; courses * boards],
            parts: vec![0.0; courses],
        }
    }

    /// What a metre of a course is worth.
    pub fn price(&self, board: usize, course: usize) -> f64 {
        self.prices[board * self.courses + course]
    }

    /// What a metre of edge costs.
    pub fn edge(&self, board: usize, seam: usize) -> f64 {
        self.edges[board * self.courses + seam]
    }

    /// What a board pays that covers a part of a course.
    pub fn part(&self, course: usize) -> f64 {
        self.parts[course]
    }

    /// Where that has its place in a slope.
    pub fn part_place(&self, course: usize) -> usize {
        self.prices.len() + self.edges.len() + course
    }

    /// Where the price of a metre of a course has its place in a slope.
    pub fn price_place(&self, board: usize, course: usize) -> usize {
        board * self.courses + course
    }

    /// Where the toll on a metre of edge has its place in a slope.
    pub fn edge_place(&self, board: usize, seam: usize) -> usize {
        self.prices.len() + board * self.courses + seam
    }

    /// Length of a slope.
    pub fn count(&self) -> usize {
        self.prices.len() + self.edges.len() + self.parts.len()
    }

    /// Sets what metres are worth.
    pub fn set_prices(&mut self, price: impl Fn(usize, usize) -> f64) {
        let courses = self.courses.max(1);
        for (at, it) in self.prices.iter_mut().enumerate() {
            *it = price(at / courses, at % courses);
        }
    }

    /// Sets them all.
    pub fn set(
        &mut self,
        price: impl Fn(usize, usize) -> f64,
        edge: impl Fn(usize, usize) -> f64,
        part: impl Fn(usize) -> f64,
    ) {
        for (course, it) in self.parts.iter_mut().enumerate() {
            *it = part(course);
        }
        let courses = self.courses.max(1);
        self.set_prices(price);
        for (at, it) in self.edges.iter_mut().enumerate() {
            *it = edge(at / courses, at % courses).max(0.0);
        }
    }

    /// The product of a slope and a direction, as far as tolls can follow it.
    pub fn product(&self, slope: &[f64], direction: &[f64]) -> f64 {
        let n = self.prices.len();
        let prices = slope[..n]
            .iter()
            .zip(&direction[..n])
            .map(|(s, d)| s * d)
            .sum::<f64>();
        let tolls = self.edges.iter().chain(&self.parts);
        let others = slope[n..].iter().zip(&direction[n..]).zip(tolls);
        let moving = others.filter(|((_, d), toll)| **toll > 0.0 || **d > 0.0);
        prices + moving.map(|((s, d), _)| s * d).sum::<f64>()
    }

    /// Goes so far along a slope.
    pub fn go(&mut self, slope: &[f64], far: f64) {
        let (prices, others) = slope.split_at(self.prices.len());
        for (price, slope) in self.prices.iter_mut().zip(prices) {
            *price += far * slope;
        }
        for (toll, slope) in self.edges.iter_mut().chain(&mut self.parts).zip(others) {
            *toll = (*toll + far * slope).max(0.0);
        }
    }

    /// A slope with more of what is common to all courses of a board, and to all boards of a course.
    pub fn smooth(&self, slope: &[f64]) -> Vec<f64> {
        let mut all = slope.to_vec();
        let n = self.courses.max(1);
        let (prices, edges) = (self.prices.len(), self.edges.len());
        for (from, to) in [(0, prices), (prices, prices + edges)] {
            let boards = (to - from) / n;
            let s = &slope[from..to];
            for b in 0..boards {
                let mean = s[b * n..(b + 1) * n].iter().sum::<f64>() / n as f64;
                all[from + b * n..from + (b + 1) * n]
                    .iter_mut()
                    .for_each(|s| *s += COMMON * mean);
            }
            for c in 0..n {
                let mean = (0..boards).map(|b| s[b * n + c]).sum::<f64>() / boards.max(1) as f64;
                (0..boards).for_each(|b| all[from + b * n + c] += COMMON * mean);
            }
            let mean = s.iter().sum::<f64>() / s.len().max(1) as f64;
            all[from..to].iter_mut().for_each(|s| *s += COMMON * mean);
        }
        let s = &slope[prices + edges..];
        let mean = s.iter().sum::<f64>() / s.len().max(1) as f64;
        all[prices + edges..]
            .iter_mut()
            .for_each(|s| *s += COMMON * mean);
        all
    }
}
