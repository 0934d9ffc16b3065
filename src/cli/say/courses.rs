//! Courses by name.

use super::listed;
use twinstrake::hull::{CourseId, CourseName, Hull, PanelId, Stretch};

/// Courses by panel, runs of three and more drawn together: `topside courses 4 to 7 and 9, and bottom course 2`.
pub fn courses(hull: &Hull, ids: &[CourseId]) -> String {
    let mut panels: Vec<(PanelId, Vec<CourseName>)> = Vec::new();
    for id in ids {
        let course = hull.course(*id);
        match panels
            .last_mut()
            .filter(|(panel, _)| *panel == course.panel)
        {
            Some((_, numbers)) => numbers.push(course.name()),
            None => panels.push((course.panel, vec![course.name()])),
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

/// Runs of whole bands are drawn together; stretches of a band stand for themselves.
fn runs(names: &[CourseName]) -> Vec<String> {
    let mut runs: Vec<(CourseName, CourseName)> = Vec::new();
    let whole = |name: CourseName| name.stretch == Stretch::Whole;
    for &name in names {
        match runs.last_mut() {
            Some((_, last)) if last.number + 1 == name.number && whole(*last) && whole(name) => {
                *last = name;
            }
            _ => runs.push((name, name)),
        }
    }
    runs.into_iter()
        .flat_map(|(first, last)| match last.number - first.number {
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
        let names = |texts: &[&str]| -> Vec<CourseName> {
            texts.iter().flat_map(|text| text.parse()).collect()
        };
        let found = runs(&names(&["1", "2", "4", "5", "6", "9"]));
        assert_eq!(found, ["1", "2", "4 to 6", "9"]);
        let found = runs(&names(&["4", "5", "6", "7a", "7b", "8"]));
        assert_eq!(found, ["4 to 6", "7a", "7b", "8"]);
    }
}
