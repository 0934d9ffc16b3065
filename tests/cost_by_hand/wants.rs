//! Accent lines, and shade that goes the wrong way.

use super::common::*;
use super::*;
use twinstrake::hull::Shade;

/// Three courses, each of the board named.
fn three(boat: Builder, boards: [&str; 3]) -> Verdict {
    let job = two_boards_of(boat.courses(3, 0.0, 4000.0)).build();
    let mut used = [0; 2];
    let cuts = boards.map(|board| {
        let n = &mut used[usize::from(board == "d")];
        *n += 2;
        Cut::pair(
            &job,
            &format!("{board}{}", *n - 1),
            &format!("{board}{}", *n),
            0.0,
        )
    });
    judged(&job, &through(&job, &cuts))
}

fn line(boat: Builder, accent: f64) -> Builder {
    boat.want("line", (2, 2), |want| {
        want.boards = vec!["d".into()];
        want.keep = true;
        want.accent = Some(accent);
    })
}

#[test]
fn contrast_up_to_the_accent_is_welcome_and_nothing_is_gained_beyond() {
    // Two seams of 4 m on two sides: 16 m. Without a want (4 + 2) × 16 = 96. Accent 12: (12 − 4 + 2) × 16 = 160.
    // Accent 4, and 3: only the step between boards is left, 2 × 16 = 32.
    close(three(hull(), ["p", "d", "p"]).cost.seam, 96.0);
    for (accent, by_hand) in [(12.0, 160.0), (4.0, 32.0), (3.0, 32.0)] {
        close(
            three(line(hull(), accent), ["p", "d", "p"]).cost.seam,
            by_hand,
        );
    }
}

#[test]
fn where_two_accents_touch_the_larger_counts() {
    // Seam 1|2 is the edge of both: max(0, 9 − 4) + 2 = 7. Seam 2|3 of the line only: max(0, 5 − 4) + 2 = 3. 8 m each.
    let boat = line(hull(), 5.0).want("rail", (1, 1), |want| {
        want.boards = vec!["p".into()];
        want.accent = Some(9.0);
    });
    close(three(boat, ["p", "d", "p"]).cost.seam, 8.0 * (7.0 + 3.0));
}

#[test]
fn a_course_that_is_lighter_than_the_one_before_costs_its_step_where_it_should_darken() {
    // dark, pale, dark: 4 up and 4 down. 8 m of seam each way: against 1.5 × 4 × 8 = 48, whichever way is wrong.
    for shade in [Shade::Darker, Shade::Lighter] {
        let verdict = three(hull().drift(shade, 1.5), ["d", "p", "d"]);
        close(verdict.cost.drift, 48.0);
        close(verdict.cost.seam, 96.0);
    }
    close(
        three(hull().drift(Shade::Darker, 1.0), ["p", "p", "d"])
            .cost
            .drift,
        0.0,
    );
    close(
        three(hull().drift(Shade::Lighter, 1.0), ["p", "p", "d"])
            .cost
            .drift,
        32.0,
    );
}

#[test]
fn drift_counts_as_much_as_the_seam_shows() {
    // Both courses shown twice over 1 m of 4: (1 × 2 + 3) m × 2 sides × 4 = 40.
    close(
        three(
            hull().drift(Shade::Darker, 1.0).show(0.0, 1000.0, 2.0),
            ["d", "p", "p"],
        )
        .cost
        .drift,
        40.0,
    );
}

#[test]
fn an_accent_band_takes_no_part_in_the_drift_and_its_neighbours_are_compared_across_it() {
    // pale, dark, pale: the line is left out, pale beside pale is no step. dark, dark, pale: 4 up over 4 m on two
    // sides.
    close(
        three(
            line(hull().drift(Shade::Darker, 1.0), 12.0),
            ["p", "d", "p"],
        )
        .cost
        .drift,
        0.0,
    );
    let boat = hull()
        .drift(Shade::Darker, 1.0)
        .want("line", (2, 2), |want| {
            want.boards = vec!["d".into(), "p".into()];
            want.accent = Some(1.0);
        });
    close(three(boat, ["d", "d", "p"]).cost.drift, 32.0);
}

#[test]
fn across_an_accent_band_only_the_places_count_where_both_lie() {
    // Course 1 to 3000, course 3 from 1000: 2 m on two sides, 4 up: 16.
    let boat = hull()
        .drift(Shade::Darker, 1.0)
        .course(0.0, 3000.0)
        .course(0.0, 4000.0)
        .course(1000.0, 4000.0);
    let boat = boat.want("line", (2, 2), |want| {
        want.boards = vec!["d".into()];
        want.accent = Some(1.0);
    });
    let job = two_boards_of(boat).build();
    let pair = |a: &str, b: &str| Cut::pair(&job, a, b, 0.0);
    let verdict = judged(
        &job,
        &through(
            &job,
            &[pair("d1", "d2"), pair("d3", "d4"), pair("p1", "p2")],
        ),
    );
    close(verdict.cost.drift, 16.0);
}
