//! `check` on a plan that somebody, or something, has changed.

use crate::folder::Folder;
use crate::says::Says;

/// The rows of the laying order, without the header.
fn rows(folder: &Folder) -> Vec<String> {
    let text = folder.read("out/laying-order.csv");
    text.lines().skip(1).map(str::to_owned).collect()
}

#[test]
fn a_cut_changed_by_hand_is_noticed_and_told_by_how_much() {
    let folder = Folder::laid();
    let row = rows(&folder).swap_remove(0);
    let mut cells: Vec<&str> = row.split(',').collect();
    let cut_to: f64 = cells[10].parse().unwrap();
    let longer = (cut_to + 12.0).to_string();
    cells[10] = &longer;
    folder.change("out/laying-order.csv", &row, &cells.join(","));
    let ran = folder.run("check", &[]).ended(1);
    ran.stdout.begins("The plan breaks the rules in ");
    let told = format!(
        "  side course 1, {}, piece 1: strip {} is cut 12 mm longer than the place it fills (rule 3).\n",
        cells[3], cells[5]
    );
    ran.says(&told);
}

#[test]
fn courses_struck_out_by_hand_are_open_and_plan_json_knows_better() {
    let folder = Folder::laid();
    let kept: Vec<String> = rows(&folder).drain(..2).collect();
    let header = folder.read("out/laying-order.csv");
    let header = header.lines().next().unwrap();
    folder.write(
        "out/laying-order.csv",
        &format!("{header}\n{}\n", kept.join("\n")),
    );
    let ran = folder.run("check", &[]).ended(1);
    ran.says("It leaves 2 of 3 courses open: side courses 2 and 3.");
    ran.warns("out/plan.json states a cost of ");
    ran.warns("out/plan.json leaves 0 courses open, the laying order as it is now 2.");
}

#[test]
fn other_weights_cost_otherwise_but_break_no_rule() {
    let folder = Folder::laid();
    folder.change("boat.toml", "[[panel]]", "[cost]\nboard = 5.0\n\n[[panel]]");
    let ran = folder.run("check", &[]).ended(0);
    ran.warns("boat.toml has changed since this plan was made.");
    ran.warns("out/plan.json states a cost of ");
    ran.stderr.lacks("strips.csv");
}

#[test]
fn a_plan_is_judged_without_its_plan_json_and_with_one_that_means_nothing() {
    let folder = Folder::laid();
    folder.write("out/plan.json", "{\"format\": 1}");
    let ran = folder.run("check", &[]).ended(0);
    ran.warns("out/plan.json can't be understood");
    std::fs::remove_file(folder.path().join("out/plan.json")).unwrap();
    let ran = folder.run("check", &[]).ended(0);
    assert_eq!(ran.stderr, "");
}

#[test]
fn a_laying_order_that_names_no_strip_can_not_be_judged() {
    let folder = Folder::laid();
    let row = rows(&folder).swap_remove(0);
    folder.change(
        "out/laying-order.csv",
        &row,
        &row.replace(",A1,", ",A11,").replace(",B1,", ",B11,"),
    );
    let ran = folder.run("check", &[]).ended(2);
    ran.stderr.begins("out/laying-order.csv, line 2");
    assert_eq!(ran.stdout, "");
}
