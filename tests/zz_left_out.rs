//! Comes last, and says in one line what was left out because programs are missing that it is read back with.

fn main() {
    match env!("MISSING_PACKAGES") {
        "" => {}
        packages => println!(
            "\nSome tests were ignored, because programs are missing that read our pages back. To run them: sudo apt-get install {packages}\n"
        ),
    }
}
