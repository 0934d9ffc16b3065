//! What to mill or buy where the wood does not cover every course.

use super::courses::courses;
use super::{CARE, listed, many, styled};
use twinstrake::hull::CourseId;
use twinstrake::job::Job;
use twinstrake::solve::{Joined, Outcome, Remedy};
use twinstrake::units::{Length, Unit};

/// Which courses stay open, and each way to cover them; `None` where none does.
pub fn shortage(job: &Job, outcome: &Outcome) -> Option<String> {
    let shortage = outcome.shortage.as_ref()?;
    let mut text = format!(
        "{}\n  {}\n",
        styled(
            CARE,
            &format!(
                "The wood does not cover {}:",
                many(shortage.open.len(), "course", "courses")
            )
        ),
        courses(&job.hull, &shortage.open)
    );
    let of = |joined| -> Vec<&Remedy> {
        let all = shortage.remedies.iter();
        all.filter(|remedy| remedy.joined == joined).collect()
    };
    let (whole, scarfed) = (of(Joined::OnePiece), of(Joined::Scarfed));
    if !whole.is_empty() {
        text += "To cover them in one piece each, mill or buy:\n";
        for remedy in &whole {
            text += &format!("  {}\n", line(job, remedy));
        }
    }
    if !scarfed.is_empty() {
        text += match whole.is_empty() {
            true => "To cover them, scarfed with what is left in the rack, mill or buy:\n",
            false => "Or instead, scarfed with what is left in the rack:\n",
        };
        for remedy in &scarfed {
            text += &format!("  {}\n", line(job, remedy));
        }
    }
    text += "A pair is two sister strips of one board; clear means without a defect.\n";
    Some(text)
}

fn line(job: &Job, remedy: &Remedy) -> String {
    let mut wood = Vec::new();
    if remedy.pairs > 0 {
        wood.push(many(remedy.pairs, "more pair", "more pairs"));
    }
    if remedy.strips > 0 {
        wood.push(many(
            remedy.strips,
            "more single strip",
            "more single strips",
        ));
    }
    let mut line = format!(
        "{} of at least {} clear, for {}",
        listed(&wood),
        at_least(job.unit, remedy.length),
        courses(&job.hull, &remedy.courses)
    );
    for want in &job.wants {
        let wanted = |id: &&CourseId| want.covers(job.hull.course(**id));
        let ids: Vec<CourseId> = remedy.courses.iter().filter(wanted).copied().collect();
        if !ids.is_empty() {
            let on = match ids.len() == remedy.courses.len() {
                true => String::new(),
                false => format!(" on {}", courses(&job.hull, &ids)),
            };
            line += &format!("; the want \"{}\" asks for {}{on}", want.name, want.named());
        }
    }
    line
}

/// A length for people that is never less than the length.
pub fn at_least(unit: Unit, length: Length) -> String {
    let step = match unit {
        Unit::Mm => unit.nm(),
        Unit::Inch => unit.nm() / 16,
    };
    unit.wood(length.rounded_up(Length::from_nm(step)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wood_is_never_asked_for_too_short() {
        // 3050 mm are 120.079 in: 120 1/16 in would be 0.4 mm short, 120 1/8 in is enough.
        let length = Length::from_mm(3050.0);
        assert_eq!(at_least(Unit::Inch, length), "10' 0 1/8\"");
        assert_eq!(at_least(Unit::Mm, length), "3050 mm");
        assert_eq!(at_least(Unit::Mm, Length::from_mm(3050.2)), "3051 mm");
    }
}
