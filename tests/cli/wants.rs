//! What the builder wants, from outside: taken out again, not met, and told.

use crate::folder::Folder;
use crate::says::Says;

const WISHES: &str = "shade = \"darker\"\n\n[[want]]\nname = \"line\"\npanel = \"side\"\ncourse = 1\n\
                      boards = [\"B\"]\naccent = 9\n";

#[test]
fn a_job_whose_wants_are_taken_out_has_the_files_of_one_that_never_had_any_to_the_byte() {
    let (never, had) = (Folder::small(), Folder::small());
    never.lay().ended(0);
    let boat = had.read("boat.toml");
    had.write("boat.toml", &(boat.clone() + WISHES));
    had.lay().ended(0);
    assert_ne!(
        had.out()["laying-order.csv"],
        never.out()["laying-order.csv"]
    );
    had.write("boat.toml", &boat);
    had.lay().ended(0);
    assert!(had.out() == never.out());
}

#[test]
fn a_course_that_is_left_open_for_a_want_says_what_to_mill_of_which_wood() {
    let folder = Folder::small();
    let want = "[[want]]\nname = \"line\"\npanel = \"side\"\ncourses = [1, 2]\nboards = [\"B\"]\n";
    let boat = folder.read("boat.toml");
    folder.write("boat.toml", &(boat + want));
    let told = folder.lay().ended(1).stdout;
    let mill = "1 more pair of at least 3050 mm clear, for side course ";
    let want = "; the want \"line\" asks for board B\n";
    assert!(
        told.lines()
            .any(|line| line.contains(mill) && format!("{line}\n").ends_with(want)),
        "{told}"
    );
    let told = folder.run("why", &["--rounds", "0"]).ended(1).stdout;
    for line in [
        "side courses 1 and 2 covered",
        "+ want \"line\" (side courses 1 to 2): board B",
        "Proven: ",
    ] {
        assert!(told.contains(line), "{line} in:\n{told}");
    }
}

#[test]
fn the_wants_of_a_plan_are_told_with_how_well_they_are_met() {
    let folder = Folder::small();
    let boat = folder.read("boat.toml");
    folder.write("boat.toml", &(boat + WISHES));
    let told = folder.lay().ended(0).stdout;
    told.says("line: board B, on side course 1; stands out by ");
    // What a want keeps and no piece is cut from is told, with how to free it.
    let strips = folder.read("strips.csv");
    folder.write("strips.csv", &(strips + "B3,B,3,3100,6\n"));
    let told = folder.lay().ended(0).stdout;
    told.says("of which nothing is cut: keep = false frees them");
}
