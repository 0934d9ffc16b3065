//! Courses by name.

use super::listed;
use crate::hull::{CourseId, Hull, PanelId};

/// Courses by panel, runs of three and more drawn together: `topside courses 4 to 7 and 9, and bottom course 2`.
pub(super) fn courses(hull: &Hull, ids: &[CourseId]) -> String {
    let mut panels: Vec<(PanelId, Vec<u32>)> = Vec::new();
    for id in ids {
        let course = hull.course(*id);
        match panels
            .last_mut()
            .filter(|(panel, _)| *panel == course.panel)
        {
            Some((_, numbers)) => numbers.push(course.number),
            None => panels.push((course.panel, vec![course.number])),
        }
    }
    let each: Vec<String> = panels
        .iter()
        .map(|(panel, numbers)| {
            let word = if numbers.len() == 1 {
                "course"
            } else {
                "courses"
            };
            format!(
                "{} {word} {}",
                hull.panel(*panel).name,
                listed(&runs(numbers))
            )
        })
        .collect();
    match each.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{}, and {last}", first.join(", ")),
        _ => each.concat(),
    }
}

fn runs(numbers: &[u32]) -> Vec<String> {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => runs.push((number, number)),
        }
    }
    runs.into_iter()
        .flat_map(|(first, last)| match last - first {
            0 => vec![first.to_string()],
            1 => vec![first.to_string(), last.to_string()],
            _ => vec![format!("{first} to {last}")],
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_are_drawn_together_and_pairs_are_not() {
        assert_eq!(runs(&[1, 2, 4, 5, 6, 9]), ["1", "2", "4 to 6", "9"]);
    }
}
