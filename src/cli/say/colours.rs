//! What `card` and `colours` say.

use super::super::colours::Why;
use super::TellPath as _;
use super::{CARE, HEAD, many, styled};
use std::path::Path;
use twinstrake::photographs::card::Side;
use twinstrake::photographs::{Cut, Doubt, Ill, MOST_PIXELS, Unopened};
use twinstrake::units::to_the_eye;

/// The card is written.
pub fn card(dir: &Path) -> String {
    format!(
        "{}\n  {}: a page to be printed at 100 %, not fitted to the page; what to do with it is printed under the \
             card.\n",
        styled(HEAD, "Written"),
        dir.join("out/card.pdf").told()
    )
}

/// What is written under quality.
pub fn quality(doubt: Option<Doubt>) -> &'static str {
    match doubt {
        None => twinstrake::job::GOOD,
        Some(Doubt::LittleWood) => "doubtful: less than half is clear wood",
        Some(Doubt::SteepLight) => "doubtful: far more or less light than at the card",
        Some(Doubt::OtherColour) => {
            "doubtful: another colour than near the card; is it still this strip?"
        }
        Some(Doubt::EndsElsewhere) => {
            "doubtful: the wood ends elsewhere than the place of the card says"
        }
    }
}

/// Photographs that were not measured, each with the reason and the mend.
pub fn not_measured(failed: &[(&str, &Why)]) -> String {
    failed
        .iter()
        .map(|(photo, why)| {
            format!(
                "{} {photo}: {}\n",
                styled(CARE, "Not measured:"),
                because(why)
            )
        })
        .collect()
}

/// None was.
pub fn no_photo_measured() -> String {
    "No photograph could be measured, and nothing was written.\n".into()
}

fn because(why: &Why) -> String {
    match why {
        Why::Unread(error) => format!("the file can't be read: {error}. Look at its name in photos.csv, and whether \
            it lies in the folder of the job."),
        Why::TooLarge => "the file is larger than 100 MB. Save it as a JPEG as the telephone takes it.".into(),
        Why::Unopened(why) => unopened(why),
        Why::Ill(ill) => ill_because(ill),
        Why::Late => "it took more than 20 seconds, and was given up. Is it a photograph of strips with the card? \
            Save it as a plain JPEG, or take it again.".into(),
        Why::Broken => "the reading of it broke off. Save it as a plain JPEG, or take it again.".into(),
    }
}

/// A picture whose codes can't be read.
pub fn no_photograph(why: &Unopened) -> String {
    format!("The picture can't be read: {}", unopened(why))
}

fn unopened(why: &Unopened) -> String {
    match why {
        Unopened::Heic => "it is a HEIC file, which is not read. Export it as JPEG; telephones can be told to take \
            JPEG (\"most compatible\").".into(),
        Unopened::Raw => "it is a raw file or a TIFF, which are not read. Save it as JPEG.".into(),
        Unopened::OtherPicture => "it is a picture, but neither JPEG nor PNG. Save it as JPEG.".into(),
        Unopened::NoPicture => "it is no picture. Look whether it is the right file.".into(),
        Unopened::CutOff => "the end of the file is missing. Copy it from the telephone again.".into(),
        Unopened::TooLarge(wide, high) => format!(
            "it has {wide} x {high} pixels, more than {} megapixels. Take it with fewer; 12 are plenty.",
            MOST_PIXELS / 1_000_000
        ),
        Unopened::TooMuch(wide, high) => format!(
            "it has {wide} x {high} pixels, too many for a progressive JPEG or a PNG of its kind. Save it as a plain \
                 (baseline) JPEG, as telephones take it, or with fewer pixels; 12 megapixels are plenty."
        ),
        Unopened::Damaged(error) => format!("the picture is damaged ({error}). Copy it from the telephone again."),
    }
}

fn ill_because(ill: &Ill) -> String {
    let the_other = |side: &Side| match side {
        Side::Left => "right",
        Side::Right => "left",
    };
    match ill {
        Ill::Dark => "it is almost black. Take it again in daylight.".into(),
        Ill::Bright => "the white of the card is burnt out. Take it again with less exposure: touch the card on the \
            telephone's screen first.".into(),
        Ill::Blurred => "nothing in it is sharp. Hold the telephone still, let it focus on the card, and take it \
            again.".into(),
        Ill::NoCard => "no card is seen. Lay the printed card on the slices (twinstrake card), all of it in the \
            picture, and near enough: half a millimetre a pixel.".into(),
        Ill::OneCode(side) => format!(
            "only one of the card's two codes can be read; the one on the {} is covered, in glare or not sharp. \
                 Take it again.",
            the_other(side)
        ),
        Ill::CardCutOff(_) => "the card reaches over the edge of the picture. Take it again with the whole card in \
            it.".into(),
        Ill::TwoCards => "more than one card is seen. Leave one on the slices, and take it again.".into(),
        Ill::OtherCard => "the card is none that this program prints, or of another size. Print it anew: twinstrake \
            card.".into(),
        Ill::UpsideDown => "the card stands on its head in the picture. If only the telephone was turned, write yes \
            under turned in photos.csv; \
             if the card lay the wrong way round, take it again: marked ends to the left, first slice at the top."
            .into(),
        Ill::Far { per_mm } => format!(
            "the card is too far away: {per_mm:.1} pixels a millimetre, where 1.1 are the least and 2 are good. Go \
                 nearer."
        ),
        Ill::Bent => "the card is not flat, or something lies on it. Glue it on something stiff, uncover it, and \
            take it again.".into(),
        Ill::NoSlices => "the card is there, but no edges of slices beside it. Lay the slices edge to edge under \
            the card, along it, on a desk of another colour.".into(),
        Ill::Slices { named, seen } => format!(
            "{} in photos.csv, but {} seen. Mend the sheet; or take it again: slices edge to edge, on a clean desk \
                 of another colour.",
            many(*named, "slice is named", "slices are named"),
            many(*seen, "is", "are")
        ),
        Ill::SlicesCutOff(cut) => format!(
            "the slices reach over the {} edge of the picture. Go a little further away, or lay fewer side by side.",
            match cut {
                Cut::Top => "upper",
                Cut::Foot => "lower",
            }
        ),
        Ill::OtherWidth { named, seen } => format!(
            "the slices measure {seen:.1} mm from one to the next by the card, where boat.toml has {named:.1} mm. \
                 Measure the scale on the card: \
             was it printed at 100 %?"
        ),
        Ill::NoWood => "no stretch of a slice is seen that is 60 mm long: look at the place of the card in \
            photos.csv, and at the lengths of the slices.".into(),
    }
}

/// What was measured.
pub struct Measured<'a> {
    pub dir: &'a Path,
    pub photos: usize,
    pub of: usize,
    pub strips: usize,
    /// How much the same stretch of a strip differs in two photographs, strip by strip. Unit: ΔE00.
    pub repeat: &'a [f64],
}

pub fn measured(told: &Measured<'_>) -> String {
    let mut text = format!(
        "{}\n  {}: the colours of {}, from {}{}\n  {}: a picture of each stretch\n",
        styled(HEAD, "Written"),
        told.dir.join("colours.csv").told(),
        many(told.strips, "strip", "strips"),
        many(told.photos, "photograph", "photographs"),
        if told.photos < told.of {
            format!(" of {}", told.of)
        } else {
            String::new()
        },
        told.dir.join("photographs").told()
    );
    text += &match told.repeat {
        [] => "No strip is seen in two photographs, so how well they agree is not known: let two of them \
            overlap.\n".into(),
        steps => {
            let mean = steps.iter().sum::<f64>() / steps.len() as f64;
            format!(
                "The same strip in two photographs differs by {mean:.1} on average ({}): {}.\n",
                many(steps.len(), "strip", "strips"),
                to_the_eye(mean)
            )
        }
    };
    text += "Colours are comparable within one card and one set of photographs; they are no colorimeter's.\n";
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn each_ill_of_a_photograph_has_a_message_of_its_own_with_a_mend() {
        let ills = [
            Ill::Dark,
            Ill::Bright,
            Ill::Blurred,
            Ill::NoCard,
            Ill::OneCode(Side::Left),
            Ill::CardCutOff(Side::Left),
            Ill::TwoCards,
            Ill::OtherCard,
            Ill::UpsideDown,
            Ill::Far { per_mm: 0.8 },
            Ill::Bent,
            Ill::NoSlices,
            Ill::Slices { named: 6, seen: 5 },
            Ill::SlicesCutOff(Cut::Top),
            Ill::OtherWidth {
                named: 19.0,
                seen: 21.0,
            },
            Ill::NoWood,
        ];
        let told: BTreeSet<String> = ills.iter().map(ill_because).collect();
        assert_eq!(told.len(), ills.len());
        // A finding, and what to do about it.
        let two = |text: &String| text.contains(". ") || text.contains(": ");
        assert!(told.iter().all(two), "{told:?}");
    }
}
