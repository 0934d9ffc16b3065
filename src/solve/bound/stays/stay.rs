//! The cheapest stays in a board at some prices.
#![allow(missing_docs)]

use super::super::pairs::Pairs;
use super::super::prices::Prices;
use super::field::Field;
use rayon::prelude::*;

pub struct Stays {
    /// by board, link: by length less one, from every pair to every pair
    pub tables: Vec<Vec<Vec<Vec<f64>>>>,
    pub entry: Vec<Vec<Vec<f64>>>,
}

impl Stays {
    pub fn new(field: &Field, pairs: &Pairs, prices: &Prices) -> Stays {
        let entry: Vec<Vec<Vec<f64>>> = field.cost.iter().map(|by_board| {
            by_board.iter().zip(&field.crews).map(|(cost, crew)| {
                cost.iter().zip(&crew.pairs).map(|(c, p)| c + prices.of(&pairs.all[*p as usize])).collect()
            }).collect()
        }).collect();
        let tables = (0..field.crews.len()).into_par_iter().map(|b| {
            let mut scratch = Scratch::new(field.crews[b].last.len());
            (0..field.cost.len()).map(|l| table(field, &entry, b, l, &mut scratch)).collect()
        }).collect();
        Stays { tables, entry }
    }
}

pub fn longest(field: &Field, b: usize, l: usize) -> usize {
    if b + 1 == field.crews.len() { return 1; }
    let mut used = 0;
    let mut k = 0;
    while l + k < field.cost.len() {
        used += field.width[l + k];
        if used > field.slices[b] { break; }
        k += 1;
    }
    k
}

struct Scratch { cost: Vec<f64>, now: Vec<u32>, next: Vec<u32> }
impl Scratch { fn new(n: usize) -> Scratch { Scratch { cost: vec![f64::INFINITY; n], now: vec![], next: vec![] } } }

fn seam(field: &Field, b: usize, l: usize, q: usize, r: usize) -> f64 {
    let n = field.crews[b].pairs.len();
    if field.met[l] <= 0.0 { return 0.0; }
    let slip = field.slip[l][b].as_ref().map_or(0.0, |m| m[q * n + r]);
    field.met[l] * field.rates[b][b][q * n + r] + slip
}

fn table(field: &Field, entry: &[Vec<Vec<f64>>], b: usize, l: usize, scratch: &mut Scratch) -> Vec<Vec<f64>> {
    let crew = &field.crews[b];
    let n = crew.pairs.len();
    let k = longest(field, b, l);
    let mut tables = vec![vec![f64::INFINITY; n * n]; k];
    if k == 0 { return tables; }
    let seams: Vec<Vec<f64>> = (0..k - 1).map(|i| {
        let mut m = vec![f64::INFINITY; n * n];
        for q in 0..n { for r in 0..n {
            if entry[l + i + 1][b][r].is_finite() { m[q * n + r] = seam(field, b, l + i, q, r) + entry[l + i + 1][b][r]; }
        } }
        m
    }).collect();
    for p in 0..n {
        if entry[l][b][p].is_infinite() { continue; }
        scratch.now.clear();
        scratch.now.push(crew.start[p]);
        scratch.cost[crew.start[p] as usize] = entry[l][b][p];
        for i in 0..k {
            scratch.next.clear();
            let now = std::mem::take(&mut scratch.now);
            for &s in &now {
                let c = scratch.cost[s as usize];
                scratch.cost[s as usize] = f64::INFINITY;
                let q = crew.last[s as usize] as usize;
                let w = &mut tables[i][p * n + q];
                *w = w.min(c);
                if i + 1 == k { continue; }
                let seams = &seams[i][q * n..(q + 1) * n];
                for &(s2, r) in &crew.next[s as usize] {
                    let c = c + seams[r as usize];
                    let old = &mut scratch.cost[s2 as usize];
                    if old.is_infinite() {
                        if c.is_infinite() { continue; }
                        scratch.next.push(s2);
                        *old = c;
                    } else if c < *old { *old = c; }
                }
            }
            scratch.now = std::mem::take(&mut scratch.next);
            scratch.next = now;
        }
    }
    tables
}

/// The pairs of the cheapest stay.
pub fn stay(field: &Field, stays: &Stays, b: usize, l: usize, k: usize, p: usize, q: usize) -> Vec<usize> {
    let crew = &field.crews[b];
    let mut levels: Vec<std::collections::BTreeMap<u32, (f64, u32)>> = Vec::new();
    levels.push([(crew.start[p], (stays.entry[l][b][p], u32::MAX))].into_iter().collect());
    for i in 1..k {
        let mut next = std::collections::BTreeMap::new();
        for (&s, &(c, _)) in &levels[i - 1] {
            for &(s2, r) in &crew.next[s as usize] {
                let c = c + seam(field, b, l + i - 1, crew.last[s as usize] as usize, r as usize) + stays.entry[l + i][b][r as usize];
                if c.is_infinite() { continue; }
                let best = next.entry(s2).or_insert((c, s));
                if c < best.0 { *best = (c, s); }
            }
        }
        levels.push(next);
    }
    let ends = levels[k - 1].iter().filter(|(s, _)| crew.last[**s as usize] as usize == q);
    let mut at = ends.min_by(|a, b| a.1.0.total_cmp(&b.1.0)).map_or(0, |(s, _)| *s);
    let mut path = Vec::new();
    for i in (0..k).rev() {
        path.push(crew.last[at as usize] as usize);
        at = levels[i].get(&at).map_or(0, |x| x.1);
    }
    path.reverse();
    path
}
