//! The linear assignment problem: each row gets a column of its own, at least total cost.

/// The column of each row in a cheapest assignment, of a matrix with `columns` columns and no more rows than that.
///
/// Costs must be finite. Source: shortest augmenting paths with potentials; J. Munkres, "Algorithms for the assignment
/// and transportation problems", J. SIAM 5 (1957), in the successive-shortest-path form of N. Tomizawa, Networks 1
/// (1971) (citations from memory).
pub fn assign(cost: &[f64], columns: usize) -> Vec<usize> {
    let rows = cost.len().checked_div(columns).unwrap_or(0);
    debug_assert!(rows <= columns);
    const FREE: usize = usize::MAX;
    // Row and column 0 of the potentials stand for the source; rows and columns count from 1.
    let mut row_price = vec![0.0; rows + 1];
    let mut column_price = vec![0.0; columns + 1];
    let mut row_of = vec![FREE; columns + 1];
    for row in 1..=rows {
        row_of[0] = row;
        let mut column = 0;
        let mut distance = vec![f64::INFINITY; columns + 1];
        let mut came_from = vec![0; columns + 1];
        let mut done = vec![false; columns + 1];
        loop {
            done[column] = true;
            let at = row_of[column];
            let (mut step, mut next) = (f64::INFINITY, 0);
            for j in 1..=columns {
                if done[j] {
                    continue;
                }
                let reduced = cost[(at - 1) * columns + j - 1] - row_price[at] - column_price[j];
                if reduced < distance[j] {
                    distance[j] = reduced;
                    came_from[j] = column;
                }
                if distance[j] < step {
                    step = distance[j];
                    next = j;
                }
            }
            for j in 0..=columns {
                if done[j] {
                    row_price[row_of[j]] += step;
                    column_price[j] -= step;
                } else {
                    distance[j] -= step;
                }
            }
            column = next;
            if row_of[column] == FREE {
                break;
            }
        }
        while column != 0 {
            let previous = came_from[column];
            row_of[column] = row_of[previous];
            column = previous;
        }
    }
    let mut column_of = vec![0; rows];
    for column in 1..=columns {
        if row_of[column] != FREE {
            column_of[row_of[column] - 1] = column - 1;
        }
    }
    column_of
}
