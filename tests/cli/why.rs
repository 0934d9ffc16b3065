//! `why`: what each rule costs, and what clashes.

use crate::folder::Folder;
use crate::says::Says;

#[test]
fn every_rule_of_the_job_has_its_line_and_nothing_is_written() {
    let folder = Folder::demo();
    folder.lay().ended(0);
    let before = folder.out();
    let told = folder.run("why", &["--rounds", "0"]).ended(0).stdout;
    for line in [
        "no zone \"rowlocks\" (topside courses 1 to 4)",
        "no zone \"mast step\" (bottom)",
        "joints 150 mm apart instead of 300 mm",
        "3 joints in a course instead of 2",
        "1 more pair of ",
        "2 more pairs of ",
    ] {
        assert!(told.contains(line), "{line} in:\n{told}");
    }
    assert_eq!(folder.out(), before);
}

#[test]
fn without_a_plan_there_is_nothing_to_ask_about() {
    let ran = Folder::small().run("why", &[]).ended(2);
    assert_eq!(ran.stdout, "");
    ran.warns("there is no plan yet");
}

#[test]
fn a_course_that_can_not_be_laid_is_told_with_the_rules_that_clash() {
    // 3 m from strips of 2 m and 3.1 m: with most = 0 the second course has no wood. One joint, and it has.
    let folder = Folder::small();
    folder.change("boat.toml", "most = 1", "most = 0");
    folder.change(
        "strips.csv",
        "B1,B,1,3100,6\nB2,B,2,3100,6\n",
        "B1,B,1,2000,6\nB2,B,2,2000,6\nB3,B,3,2000,6\nB4,B,4,2000,6\n",
    );
    folder.lay().ended(1);
    let told = folder.run("why", &["--rounds", "1"]).ended(1).stdout;
    told.says("side courses 1 and 2 covered");
    told.says("+ no joint in a course");
    told.says("Proven: ");
}
