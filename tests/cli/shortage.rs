//! A rack that does not reach: a partial plan, status 1, and what to mill or buy.

use crate::folder::Folder;
use crate::says::Says;

fn short_of_a_pair() -> Folder {
    let folder = Folder::small();
    folder.change("strips.csv", "B1,B,1,3100,6\nB2,B,2,3100,6\n", "");
    folder
}

#[test]
fn one_is_told_which_courses_stay_open_and_what_to_buy() {
    let ran = short_of_a_pair().lay().ended(1);
    // 3000 mm and 25 mm at each end.
    let open = ran
        .stdout
        .contains("The wood does not cover 1 course:\n  side course ");
    let buy = ran
        .stdout
        .contains("  1 more pair of at least 3050 mm clear, for side course ");
    assert!(open && buy, "{}", ran.stdout);
    ran.says("2 of 3 covered");
}

#[test]
fn what_is_to_be_bought_is_long_enough_once_its_ends_are_left() {
    let folder = short_of_a_pair();
    folder.change("boat.toml", "[allow]", "[allow]\nend_trim = 20\ndefect = 5");
    let ran = folder.lay().ended(1);
    // 3000 mm, 25 mm at each end of the course and 20 mm at each end of the strip.
    let buy = "  1 more pair of at least 3090 mm clear, for side course ";
    ran.says(buy);
    let strips = folder.read("strips.csv") + "C1,C,1,3090,6\nC2,C,2,3090,6\n";
    folder.write("strips.csv", &strips);
    folder.lay().ended(0);
    // One millimetre less, and it does not do.
    folder.write("strips.csv", &strips.replace("3090", "3089"));
    folder.lay().ended(1);
}

#[test]
fn two_guesses_a_shade_apart_are_not_called_two_woods() {
    let folder = Folder::small();
    let strips = folder.read("strips.csv");
    let worst = |b: &str| {
        let guessed = format!("3100,{b}\n");
        folder.write("strips.csv", &strips.replace("3100,6\n", &guessed));
        folder.lay().ended(0).stdout
    };
    // Shade 4 beside shade 6 is two woods; beside shade 5, or measured, it depends on how they were taken.
    worst("6").says("looks like two woods");
    let said = worst("5");
    said.says("a shade apart by eye, perhaps one wood");
    said.lacks("looks like two woods");
    // Half a shade more, and it is two woods.
    worst("5.5").says("looks like two woods");
    // The colour of shade 5, but measured a little off the scale: then the step is what was measured.
    worst("59.1 10.0 22.0").says("looks like two woods");
}

#[test]
fn even_laid_quietly_the_shortage_is_told() {
    let ran = short_of_a_pair()
        .run("lay", &["--rounds", "0", "--quiet"])
        .ended(1);
    ran.stdout.begins("The wood does not cover 1 course:");
}

#[test]
fn a_plan_with_a_course_left_open_is_good_but_not_done() {
    let folder = short_of_a_pair();
    folder.lay().ended(1);
    let ran = folder.run("check", &[]).ended(1);
    ran.stdout
        .begins("The plan keeps every rule.\nIt leaves 1 of 3 courses open: side course ");
    assert_eq!(ran.stderr, "");
    let plan: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
    assert_eq!(plan["uncovered"].as_array().unwrap().len(), 1);
    let open = &plan["uncovered"][0];
    assert_eq!(
        (&open["panel"], &open["length"]),
        (&"side".into(), &3000.0.into())
    );
    // Two pairs are left for three courses: by their lengths they are too few.
    assert_eq!(plan["shortage"]["proven"], true);
    assert_eq!(plan["shortage"]["why"], "its lengths alone rule it out");
    assert_eq!(plan["shortage"]["mill"][0]["pairs"], 1);
    assert_eq!(plan["shortage"]["mill"][0]["length"], 3050.0);
    assert_eq!(
        open["reason"],
        "no wood was found for it; in one piece it takes a pair of 3050 mm clear"
    );
}

#[test]
fn an_empty_rack_covers_nothing_and_says_so() {
    let folder = Folder::small();
    folder.write("strips.csv", "strip,board,seq,length,colour\nS1,,,150,5\n");
    let ran = folder.lay().ended(1);
    for said in [
        "side courses 1 to 3",
        "2 more pairs of at least 3050 mm clear, for side courses 1 and 2",
        "1 more single strip of at least 2050 mm clear, for side course 3",
    ] {
        ran.says(said);
    }
    folder.run("check", &[]).ended(1);
}
