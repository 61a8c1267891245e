//! Bars, cutters and money of a set as JSON.

use super::bench::tidy;
use super::object::object;
use crate::base::{Decimal, Length};
use crate::problem::{Problem, WhichCutter};
use crate::sheet::{Strip, StripPiece, Strips};
use crate::shop::blanks::{Blank, Kind};
use crate::shop::cutting::{Cut, Why};
use crate::shop::job::{Job, money};
use crate::stock::CutterNeed;
use crate::stock::{Least, Source};
use crate::train::Set;
use serde_json::Value;

/// A job with the names of what it is about.
#[derive(Debug)]
pub struct StockAnswer<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// The set.
    pub set: &'a Set,
    /// What the set is called.
    pub mark: &'a str,
    /// What was worked out.
    pub job: &'a Job,
}

impl StockAnswer<'_> {
    /// Everything, for programs.
    pub fn record(&self) -> Value {
        let job = self.job;
        let workshop = self.problem.workshop();
        let allowances = workshop.allowances();
        let plan = &job.plan;
        let mut record = object!({
            "set": self.mark,
            "currency": workshop.currency(),
            "workshop_given": workshop.given(),
            "bars_taken": workshop.bars_taken(),
            "cutter_prices_taken": workshop.cutter_prices_taken(),
            "kerf_mm": allowances.kerf().mm(),
            "grip_mm": allowances.grip().mm(),
            "facing_mm": allowances.facing().mm(),
            "turning_mm": allowances.turning().mm(),
            "box_laid_out": job.laid_out,
            "parts": job.alike().iter().map(|places| self.group(places)).collect::<Vec<_>>(),
            "left_out": job.left_out.iter().map(|(blank, why)| object!({
                "part": blank.name.as_str(),
                "why": self.why(blank, *why),
            })).collect::<Vec<_>>(),
            "bars": plan.cuts.iter().map(|cut| self.cut(cut)).collect::<Vec<_>>(),
            "buy": plan.buys.iter().map(|buy| self.buy(*buy)).collect::<Vec<_>>(),
            "new_bars": plan.bars,
            "metal_mm3": plan.metal_mm3(),
            "proved": object!({
                "money": plan.money_is_proved(),
                "money_at_least": money(plan.proof.money_at_least_millionths).to_f64(),
                "new_bars": plan.proof.bars,
                "metal": plan.proof.metal,
            }),
            "cutters": job.cutters.needs.iter().map(Self::cutter).collect::<Vec<_>>(),
            "cutter_sets": job.cutters.sets.iter().map(|set| object!({
                "module_mm": set.module.mm(),
                "price": set.price.to_f64(),
            })).collect::<Vec<_>>(),
            "not_divided_simply": self.undivided(),
            "money": self.moneys(),
        });
        tidy(&mut record);
        record
    }

    fn moneys(&self) -> Value {
        let job = self.job;
        let alone = match job.gears_alone {
            Least::Money(bars) => Some(money(bars).to_f64()),
            Least::Impossible | Least::Between(..) => None,
        };
        object!({
            "bars": job.bars_money().to_f64(),
            "cutters": job.cutters.money.to_f64(),
            "together": job.money().to_f64(),
            "gears_and_cutters": job.gears_money().map(Decimal::to_f64),
            "bars_of_gears_alone": alone,
        })
    }

    fn group(&self, places: &[usize]) -> Value {
        let blanks = places
            .iter()
            .filter_map(|place| self.job.blanks.get(*place));
        let names: Vec<&str> = blanks.clone().map(|blank| blank.name.as_str()).collect();
        let Some(blank) = blanks.clone().next() else {
            return Value::Null;
        };
        let (module, teeth) = match blank.kind {
            Kind::Gear(module, teeth) => {
                let module = module.of(self.problem).mm();
                (Some(module), Some(teeth.get()))
            }
            _ => (None, None),
        };
        object!({
            "kind": blank.kind.word(),
            "letter": places.first().and_then(|place| self.letter(*place)),
            "names": names.as_slice(),
            "count": names.len(),
            "teeth": teeth,
            "module_mm": module,
            "outside_mm": blank.outside.mm(),
            "root_mm": blank.root_mm,
            "bore_mm": blank.bore_mm,
            "length_mm": blank.length.mm(),
            "cut_length_mm": blank.piece.length.mm(),
            "least_bar_mm": blank.piece.diameter.mm(),
            "material": blank.piece.material.map(|of| self.job.stock.name(of)),
            "turned_g": places.first().and_then(|place| self.turned_g(*place)),
        })
    }

    /// Mass of a turned and bored blank of the bar that it is cut from, g.
    fn turned_g(&self, place: usize) -> Option<f64> {
        let blank = self.job.blanks.get(place)?;
        let of = |cut: &&Cut| cut.pieces.iter().any(|(at, _)| *at == place);
        let cut = self.job.plan.cuts.iter().find(of)?;
        Some(blank.turned_mm3() * self.density_kg_m3(cut.source)? * 1e-6)
    }

    fn density_kg_m3(&self, source: Source) -> Option<f64> {
        let workshop = self.problem.workshop();
        let bar = match source {
            Source::Rack(place) => workshop.rack().get(place),
            Source::Bar(place) => workshop.bars().get(place),
        };
        bar.map(crate::problem::Bar::density_kg_m3)
    }

    /// Mass of a whole bar, kg.
    pub fn bar_kg(&self, source: Source) -> Option<f64> {
        let rod = self.job.stock.rod_of(source)?;
        let mm3 = std::f64::consts::FRAC_PI_4 * rod.diameter.mm() * rod.diameter.mm();
        Some(mm3 * rod.length.mm() * self.density_kg_m3(source)? * 1e-9)
    }

    fn cut(&self, cut: &Cut) -> Value {
        let pieces = cut.pieces.iter().map(|(place, [from, to])| {
            object!({
                "part": self.job.blanks.get(*place).map(|blank| blank.name.as_str()),
                "label": self.label(*place),
                "from_mm": from.mm(),
                "to_mm": to.mm(),
            })
        });
        object!({
            "diameter_mm": cut.rod.diameter.mm(),
            "length_mm": cut.rod.length.mm(),
            "material": self.job.stock.name(cut.rod.material),
            "from": if matches!(cut.source, Source::Rack(_)) { "rack" } else { "buy" },
            "price": money(cut.rod.price_millionths).to_f64(),
            "pieces": pieces.collect::<Vec<_>>(),
            "kerfs_mm": cut.kerfs.iter().map(|kerf| kerf.mm()).collect::<Vec<_>>(),
            "left_mm": cut.left.mm(),
        })
    }

    fn buy(&self, (place, count): (usize, usize)) -> Value {
        let source = Source::Bar(place);
        let rod = self.job.stock.rod_of(source);
        let bar = self.problem.workshop().bars().get(place);
        object!({
            "count": count,
            "diameter_mm": rod.map(|rod| rod.diameter.mm()),
            "length_mm": rod.map(|rod| rod.length.mm()),
            "material": rod.map(|rod| self.job.stock.name(rod.material)),
            "price": rod.map(|rod| money(rod.price_millionths).to_f64()),
            "price_taken": bar.map(crate::problem::Bar::price_taken),
            "mass_kg": self.bar_kg(source),
        })
    }

    fn cutter(need: &CutterNeed) -> Value {
        let (kind, number) = match need.which {
            WhichCutter::Form(number) => ("form", Some(number)),
            WhichCutter::FormSet => ("form set", None),
            WhichCutter::Own(_) => ("own form", None),
            WhichCutter::Tool => ("hob or rack", None),
        };
        object!({
            "kind": kind,
            "number": number,
            "module_mm": need.module.mm(),
            "from_teeth": need.range.map(|(from, _)| from),
            "to_teeth": need.range.and_then(|(_, to)| to),
            "cuts_teeth": need.teeth.iter().map(|teeth| teeth.get()).collect::<Vec<_>>(),
            "at_hand": need.at_hand,
            "in_set": need.in_set,
            "price": need.price.to_f64(),
        })
    }

    /// What is written in a bar for a piece: a gear's teeth, else the name.
    pub fn label(&self, place: usize) -> String {
        match self.job.blanks.get(place) {
            Some(blank) => match blank.kind {
                Kind::Gear(_, teeth) => teeth.to_string(),
                _ => blank.name.clone(),
            },
            None => String::new(),
        }
    }

    /// What a list calls parts that are alike.
    pub fn group_name(&self, places: &[usize]) -> String {
        let first = places.first().and_then(|first| self.job.blanks.get(*first));
        let Some(blank) = first else {
            return String::new();
        };
        match (places.len(), blank.kind) {
            (1, _) => blank.name.clone(),
            (count, Kind::Sleeve | Kind::Bush | Kind::DogRing) => {
                format!("{count} × {}", blank.kind.word())
            }
            (count, _) => format!("{count} × {}", blank.name),
        }
    }

    /// The letter of a part that is no gear, by which lists know it where its
    /// name has no room: `A` for the first of them.
    pub fn letter(&self, place: usize) -> Option<String> {
        let groups = self.job.alike();
        let is_other = |group: &&Vec<usize>| {
            let first = group.first().and_then(|first| self.job.blanks.get(*first));
            first.is_some_and(|blank| !matches!(blank.kind, Kind::Gear(..)))
        };
        let mut others = groups.iter().filter(is_other);
        let number = others.position(|group| group.contains(&place))?;
        let letter = char::from_u32(u32::from('A') + u32::try_from(number % 26).ok()?)?;
        // After `Z` comes `A2`.
        let round = number / 26 + 1;
        Some(if round > 1 {
            format!("{letter}{round}")
        } else {
            letter.to_string()
        })
    }

    /// The cutting plan, to be drawn.
    pub fn strips(&self) -> Strips {
        let groups = self.job.alike();
        let key = groups.iter().filter_map(|group| {
            let letter = self.letter(*group.first()?)?;
            Some(format!("{letter} {}", self.group_name(group)))
        });
        Strips {
            title: format!("Set {}: cut from the faced end on the left", self.mark),
            kerf: self.problem.workshop().allowances().kerf().to_string(),
            bars: self
                .job
                .plan
                .cuts
                .iter()
                .map(|cut| self.strip(cut))
                .collect(),
            key: key.collect(),
        }
    }

    fn strip(&self, cut: &Cut) -> Strip {
        let material = self.job.stock.name(cut.rod.material);
        let from = match cut.source {
            Source::Rack(_) => "from the rack",
            Source::Bar(_) => "to buy",
        };
        let (diameter, length) = (cut.rod.diameter, cut.rod.length);
        let piece = |(place, [from, to]): &(usize, [Length; 2])| StripPiece {
            from_mm: from.mm(),
            to_mm: to.mm(),
            words: self.label(*place),
            letter: self.letter(*place),
        };
        Strip {
            heading: format!("Ø{diameter} {material}, {length} mm, {from}"),
            length_mm: length.mm(),
            pieces: cut.pieces.iter().map(piece).collect(),
            left_mm: cut.left.mm(),
        }
    }

    /// Tooth counts that the head divides neither directly nor by turns and
    /// holes, ascending.
    pub fn undivided(&self) -> Vec<u32> {
        let head = self.problem.workshop().dividing_head();
        let counts = self.job.cutters.needs.iter().flat_map(|need| &need.teeth);
        let mut counts: Vec<u32> = counts.map(|teeth| teeth.get()).collect();
        counts.sort_unstable();
        counts.dedup();
        counts.retain(|count| !head.divides_simply(*count));
        counts
    }

    /// Why a part cannot be had, in a sentence.
    pub fn why(&self, blank: &Blank, why: Why) -> String {
        let job = self.job;
        why_words(blank, why, |material| job.stock.name(material).to_owned())
    }
}

/// Why a part cannot be had, in a sentence.
pub fn why_words(
    blank: &Blank,
    why: Why,
    name: impl Fn(crate::stock::Material) -> String,
) -> String {
    let of = blank.piece.material.map(name).unwrap_or_default();
    let of = if of.is_empty() {
        of
    } else {
        format!(" of {of}")
    };
    let mm = |length: Length| length.to_string();
    match why {
        Why::NoMaterial => format!("there is no bar{of}"),
        Why::TooThick { needs, largest } => format!(
            "it needs a bar{of} of at least {} mm; the largest is {} mm",
            mm(needs),
            mm(largest)
        ),
        Why::TooLong { needs, longest } => format!(
            "it needs {} mm of bar{of}; the longest that is thick enough is {} mm",
            mm(needs),
            mm(longest)
        ),
        Why::RackTooSmall => {
            format!("the rack alone has bars{of} for it, and not enough of them for all such parts")
        }
    }
}
