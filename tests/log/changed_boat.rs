//! The boat's own files changed while it is being laid: planning again goes by the boat as it is now.

use super::again_quickly;
use super::folder::Folder;
use super::tell;
use crate::says::Says;

/// Two mirrored courses and a centre course, with no more wood than three mirrored ones take; the first course is laid.
fn begun() -> Folder {
    let folder = Folder::small();
    folder.change(
        "strips.csv",
        "S1,,,2100,5\n",
        "S1,S,1,2100,5\nS2,S,2,2100,5\n",
    );
    folder.lay().ended(0);
    tell(&folder, "laid 1").ended(0);
    folder
}

#[test]
fn a_centre_course_that_becomes_mirrored_and_back_again_is_planned_anew() {
    let folder = begun();
    folder.change("courses.csv", "side,3,centre", "side,3,mirrored");
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
    folder.run("spares", &["--samples", "1"]).ended(0);
    folder.change("courses.csv", "side,3,mirrored", "side,3,centre");
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
}

/// A course more in front of the centre course: what was number 3 is number 4, and the new 3 is mirrored.
#[test]
fn a_course_more_before_the_last_moves_its_number_and_the_boat_is_planned_anew() {
    let folder = begun();
    folder.change(
        "courses.csv",
        "side,3,centre,500,2500",
        "side,3,mirrored,500,2500\nside,4,centre,500,2500",
    );
    let strips = folder.read("strips.csv");
    folder.write("strips.csv", &(strips + "S3,S,3,2100,5\n"));
    again_quickly(&folder).ended(0);
    folder.change("courses.csv", "side,4,centre,500,2500\n", "");
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
}

#[test]
fn whoever_asks_for_spares_of_a_plan_that_the_boat_has_outgrown_is_told_what_to_do() {
    let folder = begun();
    folder.change("courses.csv", "side,3,centre", "side,3,mirrored");
    let told = folder.run("spares", &["--samples", "1"]).ended(2).stderr;
    let dir = folder.path().display();
    told.says(&format!("First plan again: twinstrake lay {dir}\n"));
}
