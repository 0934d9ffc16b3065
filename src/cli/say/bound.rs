//! How a bound was found, or why there is none.

use twinstrake::solve::BoundReason;

/// What plan.json and the summary say of it.
pub fn bound_reason(reason: BoundReason) -> &'static str {
    match reason {
        BoundReason::Priced => {
            "prices on the use of each strip, with paths that remember the strips they took"
        }
        BoundReason::CostIsNothing => "no term of the cost can be less than nothing",
        BoundReason::CourseOpen => {
            "a course is open, and a bound holds only for plans that cover all"
        }
        BoundReason::Joints => {
            "courses may be joined, and no bound is worked out for plans with joints"
        }
        BoundReason::TooLarge => "the job is too large for the bound",
        BoundReason::WoodIsLaid => {
            "wood is laid or labelled already, and for such jobs no bound is worked out"
        }
        BoundReason::TimeUp => "no bound better than nothing was found in the time",
        BoundReason::TakenUpAgain => "the plan was taken up again as it was",
        // The library may come to know more reasons than this program has words for.
        _ => "no bound was worked out",
    }
}
