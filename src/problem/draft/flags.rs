//! What the flags say, as numbers, with what they leave open filled in.

use super::Wishes;
use super::load::Load;
use crate::base::{Decimal, DecimalError};
use crate::problem::fault::{Fault, shown};
use crate::problem::keys::Unit;

/// A length as typed, with its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Amount(pub(super) Decimal, pub(super) Unit);

/// The shafts' distance.
#[derive(Clone, Copy, Debug)]
pub(super) enum Centres {
    One(Amount),
    /// From, to, step.
    Steps([Decimal; 3], Unit),
}

/// A forward speed.
#[derive(Clone, Copy, Debug)]
pub(super) enum Wanted {
    Ratio(Decimal),
    OutputRpm(Decimal),
    Direct,
}

/// The flags, read. What a flag misspells is missing here and told apart.
#[derive(Debug)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is one flag, or whether one was typed"
)]
pub(super) struct Flags {
    pub(super) title: Option<String>,
    pub(super) centres: Option<Centres>,
    pub(super) modules: Vec<Decimal>,
    pub(super) pitches: Vec<Decimal>,
    pub(super) wanted: Vec<Wanted>,
    pub(super) input_rpm: Option<Decimal>,
    pub(super) reverse: Option<Decimal>,
    pub(super) teeth: Option<[Decimal; 2]>,
    pub(super) teeth_assumed: bool,
    pub(super) idler: Option<[Decimal; 2]>,
    pub(super) idler_assumed: bool,
    pub(super) tolerance: Option<Decimal>,
    pub(super) tolerance_assumed: bool,
    pub(super) reverse_tolerance: Option<Decimal>,
    pub(super) reverse_tolerance_assumed: bool,
    pub(super) face_width: Option<Amount>,
    pub(super) face_width_assumed: bool,
    /// Widths follow from the load.
    pub(super) face_auto: bool,
    pub(super) backlash: Option<([Decimal; 2], Unit)>,
    pub(super) backlash_assumed: bool,
    pub(super) helix: Option<Decimal>,
    pub(super) pressure_angle: Option<Decimal>,
    pub(super) case_open: bool,
    pub(super) offset: bool,
    pub(super) load: Load,
}

/// The flags, and what is misspelled in them.
pub(super) fn read(wishes: &Wishes) -> (Flags, Vec<Fault>) {
    let mut reader = Reader::default();
    let whole = Decimal::whole;
    let reverse = wishes.reverse.as_deref();
    let reverse = reverse.and_then(|text| reader.number("--reverse", text));
    let modules = reader.numbers("--modules", &wishes.modules);
    let pitches = reader.numbers("--diametral-pitches", &wishes.diametral_pitches);
    reader.something(wishes);
    reader.reverse_only(wishes);
    reader.rpm_together(wishes);
    let input_rpm = wishes.input_rpm.as_deref();
    let input_rpm = input_rpm.and_then(|text| reader.number("--input-rpm", text));
    let has_reverse = wishes.reverse.is_some();
    let face_auto = wishes.face_width.as_deref().map(str::trim) == Some("auto");
    let flags = Flags {
        title: wishes.title.clone(),
        centres: reader.centres("--centres", &wishes.centres),
        wanted: reader.wanted(wishes),
        input_rpm,
        reverse,
        teeth: reader.range("--teeth", wishes.teeth.as_deref(), [whole(14), whole(70)]),
        teeth_assumed: wishes.teeth.is_none(),
        idler: reader.range("--idler", wishes.idler.as_deref(), [whole(14), whole(30)]),
        idler_assumed: wishes.idler.is_none() && has_reverse,
        tolerance: reader.or("--tolerance", wishes.tolerance.as_deref(), whole(3)),
        tolerance_assumed: wishes.tolerance.is_none()
            && !(wishes.ratios.is_empty() && wishes.output_rpm.is_empty()),
        reverse_tolerance: reader.or(
            "--reverse-tolerance",
            wishes.reverse_tolerance.as_deref(),
            whole(10),
        ),
        reverse_tolerance_assumed: wishes.reverse_tolerance.is_none() && has_reverse,
        face_width: match wishes.face_width.as_deref() {
            Some(_) if face_auto => None,
            Some(text) => reader.amount("--face-width", text),
            None => usual_width(&modules, &pitches),
        },
        face_width_assumed: wishes.face_width.is_none(),
        face_auto,
        backlash: reader.backlash(wishes.backlash.as_deref()),
        backlash_assumed: wishes.backlash.is_none(),
        helix: reader.or("--helix", wishes.helix.as_deref(), whole(0)),
        pressure_angle: reader.or(
            "--pressure-angle",
            wishes.pressure_angle.as_deref(),
            whole(20),
        ),
        case_open: wishes.case_open,
        offset: wishes.offset,
        load: Load::read(wishes, &mut reader),
        modules,
        pitches,
    };
    (flags, reader.faults)
}

/// 8 times the largest module, common practice for cut gears; to 0.1 mm.
fn usual_width(modules: &[Decimal], pitches: &[Decimal]) -> Option<Amount> {
    let metric = modules.iter().map(|module| module.to_f64());
    let inch = pitches
        .iter()
        .filter(|pitch| **pitch > Decimal::whole(0))
        .map(|pitch| 25.4 / pitch.to_f64());
    let largest = metric.chain(inch).reduce(f64::max)?;
    let tenths = (largest * 80.0).round().max(1.0);
    Some(Amount(Decimal::nearest(tenths / 10.0)?, Unit::Mm))
}

#[derive(Default)]
pub(super) struct Reader {
    faults: Vec<Fault>,
}

impl Reader {
    pub(super) fn fault(&mut self, flag: &str, what: String, next: &str) {
        self.faults.push(Fault {
            place: None,
            key: flag.to_owned(),
            what,
            next: next.to_owned(),
            of_box: false,
        });
    }

    /// What no file could leave out.
    fn something(&mut self, wishes: &Wishes) {
        if wishes.modules.is_empty() && wishes.diametral_pitches.is_empty() {
            let next =
                "give the modules you can cut, as in --modules 0.8,1.0, or --diametral-pitches";
            self.fault("--modules", "missing".to_owned(), next);
        }
        let none = wishes.ratios.is_empty() && wishes.output_rpm.is_empty();
        if none && wishes.reverse.is_none() {
            let next = "give the ratios wanted, as in --ratios 3.6,1.9,direct";
            self.fault("--ratios", "missing".to_owned(), next);
        }
    }

    /// Flags that mean nothing without `--reverse`.
    fn reverse_only(&mut self, wishes: &Wishes) {
        let given = [
            ("--idler", wishes.idler.is_some()),
            ("--reverse-tolerance", wishes.reverse_tolerance.is_some()),
        ];
        for (flag, _) in given.iter().filter(|(_, given)| *given) {
            if wishes.reverse.is_none() {
                let what = "means nothing without --reverse".to_owned();
                self.fault(flag, what, "add --reverse RATIO, or leave this out");
            }
        }
    }

    /// Speeds in rpm need both flags, and stand in place of ratios. A load may have
    /// the speed of the input shaft alone.
    fn rpm_together(&mut self, wishes: &Wishes) {
        let loaded = wishes.torque.is_some() || wishes.power.is_some();
        let alone = match (wishes.output_rpm.is_empty(), &wishes.input_rpm) {
            (false, None) => Some(["--output-rpm", "--input-rpm", " RPM"]),
            (true, Some(_)) if !loaded => Some(["--input-rpm", "--output-rpm", " RPM,RPM"]),
            _ => None,
        };
        if let Some([flag, other, value]) = alone {
            let what = format!("means nothing without {other}");
            let next = format!("add {other}{value}, or leave this out");
            self.fault(flag, what, &next);
        }
        if !wishes.ratios.is_empty() && !wishes.output_rpm.is_empty() {
            let what = "--ratios is given already".to_owned();
            self.fault("--output-rpm", what, "keep one of the two");
        }
    }

    pub(super) fn number(&mut self, flag: &str, text: &str) -> Option<Decimal> {
        let what = match Decimal::parse(text.trim()) {
            Ok(number) => return Some(number),
            Err(DecimalError::NotANumber) => format!("\"{}\" is not a number", shown(text)),
            Err(error) => format!("{} has {error}", shown(text)),
        };
        self.fault(flag, what, "write a plain number, as in 3.6");
        None
    }

    fn or(&mut self, flag: &str, text: Option<&str>, usual: Decimal) -> Option<Decimal> {
        match text {
            Some(text) => self.number(flag, text),
            None => Some(usual),
        }
    }

    fn numbers(&mut self, flag: &str, texts: &[String]) -> Vec<Decimal> {
        let numbers = texts.iter().filter_map(|text| self.number(flag, text));
        numbers.collect()
    }

    /// The forward speeds, as ratios or in rpm.
    fn wanted(&mut self, wishes: &Wishes) -> Vec<Wanted> {
        let next = "write numbers or the word direct, as in 3.6,1.9,direct";
        let ratios = ("--ratios", "a ratio", next);
        let mut all = self.row_of(&wishes.ratios, ratios, Wanted::Ratio);
        let next = "write numbers or the word direct, as in 900,1500,direct";
        let speeds = ("--output-rpm", "a speed in rpm", next);
        all.extend(self.row_of(&wishes.output_rpm, speeds, Wanted::OutputRpm));
        all
    }

    fn row_of(
        &mut self,
        texts: &[String],
        (flag, noun, next): (&str, &str, &str),
        of: fn(Decimal) -> Wanted,
    ) -> Vec<Wanted> {
        let mut row = Vec::new();
        for text in texts {
            if text.trim() == "direct" {
                row.push(Wanted::Direct);
            } else if let Ok(number) = Decimal::parse(text.trim()) {
                row.push(of(number));
            } else {
                let what = format!("\"{}\" is not {noun}", shown(text));
                self.fault(flag, what, next);
            }
        }
        row
    }

    /// A number with `mm`, `in` or nothing after it.
    fn amount(&mut self, flag: &str, text: &str) -> Option<Amount> {
        let (number, unit) = unit(text.trim());
        Some(Amount(self.number(flag, number)?, unit))
    }

    fn range(
        &mut self,
        flag: &str,
        text: Option<&str>,
        usual: [Decimal; 2],
    ) -> Option<[Decimal; 2]> {
        match text {
            Some(text) => self.row(flag, text, "write two numbers, as in 14..70"),
            None => Some(usual),
        }
    }

    fn backlash(&mut self, text: Option<&str>) -> Option<([Decimal; 2], Unit)> {
        let Some(text) = text else {
            let usual = [30_000, 100_000].map(Decimal::from_millionths);
            return Some((usual, Unit::Mm));
        };
        let (numbers, unit) = unit(text.trim());
        let row = self.row("--backlash", numbers, "write two lengths, as in 0.03..0.10")?;
        Some((row, unit))
    }

    fn centres(&mut self, flag: &str, text: &str) -> Option<Centres> {
        let (numbers, unit) = unit(text.trim());
        if numbers.contains("..") {
            let next = "write from..to..step, as in 38..42..0.5";
            return Some(Centres::Steps(self.row(flag, numbers, next)?, unit));
        }
        Some(Centres::One(Amount(self.number(flag, numbers)?, unit)))
    }

    /// `N` numbers with `..` between them.
    fn row<const N: usize>(&mut self, flag: &str, text: &str, next: &str) -> Option<[Decimal; N]> {
        let parts: Vec<&str> = text.split("..").collect();
        let Ok(parts) = <[&str; N]>::try_from(parts) else {
            let what = format!("\"{}\" is not {N} numbers with .. between", shown(text));
            self.fault(flag, what, next);
            return None;
        };
        let numbers = parts.map(|part| self.number(flag, part));
        let numbers: Vec<Decimal> = numbers.into_iter().collect::<Option<_>>()?;
        numbers.try_into().ok()
    }
}

/// Splits the unit off a length; mm when there is none.
fn unit(text: &str) -> (&str, Unit) {
    match (text.strip_suffix("in"), text.strip_suffix("mm")) {
        (Some(number), _) => (number.trim(), Unit::Inch),
        (None, Some(number)) => (number.trim(), Unit::Mm),
        (None, None) => (text, Unit::Mm),
    }
}
