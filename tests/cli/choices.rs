//! `lay --choices` and `pick`.

use crate::folder::Folder;
use crate::says::Says;

const THREE: [&str; 4] = ["--rounds", "0", "--choices", "3"];

#[test]
fn a_plan_that_is_picked_is_the_plan_to_the_last_byte() {
    let folder = Folder::demo();
    let told = folder.run("lay", &THREE).ended(0).stdout;
    told.says("To choose from, the best-looking first");
    // The plan in out/ is one of those offered.
    let plan = folder.read("out/laying-order.csv");
    let offered = |n: usize| folder.read(&format!("out/choices/{n}/laying-order.csv"));
    assert!((1..=3).any(|n| offered(n) == plan));
    let ran = folder.run("pick", &["2"]).ended(0);
    ran.stdout.begins("Plan 2 is the plan now");
    for file in ["laying-order.csv", "plan.json", "planking.svg"] {
        assert_eq!(
            folder.read(&format!("out/{file}")),
            folder.read(&format!("out/choices/2/{file}")),
            "{file}"
        );
    }
    folder.run("check", &[]).ended(0);
    folder.run("pick", &["1"]).ended(0);
    assert_eq!(folder.read("out/laying-order.csv"), offered(1));
    // Fewer than before leave none of the old ones.
    folder
        .run("lay", &["--rounds", "0", "--choices", "2"])
        .ended(0);
    assert!(!folder.has("out/choices/3"));
}

#[test]
fn nothing_is_picked_from_a_job_that_has_changed_or_by_a_number_that_is_not_there() {
    let folder = Folder::small();
    folder
        .run("lay", &["--rounds", "0", "--choices", "2"])
        .ended(0);
    let before = folder.out();
    let ran = folder.run("pick", &["9"]).ended(2);
    ran.warns("there is no such plan to pick");
    folder.change("strips.csv", "S1,,,2100,5", "S1,,,2101,5");
    let ran = folder.run("pick", &["1"]).ended(2);
    ran.stderr
        .begins("strips.csv: has changed since the plans to choose from were laid");
    assert_eq!(folder.out(), before);
}
