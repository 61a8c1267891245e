//! Reverse gearings of one centre distance, sorted by ratio, their idlers in
//! runs that share a cutter.

use super::gears::{GearEntry, GearTable};
use super::least::Least;
use super::mask::Mask;
use super::meter::{Meter, Slot};
use super::passing::{Beside, Passing, clears};
use super::sorting::{Numbers, places_by_mask};
use super::space::steepness;
use super::strong::{Holding, Strong};
use crate::base::{Ratio, Teeth, Window};
use crate::making::Form;
use crate::mesh::{ReverseList, ReverseSpan};
use crate::problem::Problem;
use crate::train::{ModuleId, ReverseGears};
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::ops::Range;

/// A run of idlers between one driver and one driven gear that share a cutter.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece<M> {
    /// Place of its span.
    pub(super) span: u32,
    pub(super) idler_min: Teeth,
    pub(super) idler_max: Teeth,
    /// Σ OD² with its smallest idler, µm².
    pub(super) volume: u64,
    pub(super) mask: M,
    /// The same cutters, none twice, in the places of those missing nothing.
    pub(super) cutters: [u32; 3],
    /// Place of its mask among the distinct masks of all pieces.
    pub(super) class: u32,
}

impl<M> Piece<M> {
    /// By volume first, and no two alike.
    pub(super) fn in_order(&self) -> Numbers {
        let idler = u64::from(self.idler_min.get());
        [self.volume, u64::from(self.span), idler, 0]
    }
}

/// Stands in the place of a cutter where there is none.
const NO_CUTTER: u32 = u32::MAX;

/// Every reverse gearing of a centre distance, sorted by ratio: first those that
/// hold behind every head that brings them into tolerance, then the others.
#[derive(Debug)]
pub(super) struct Reverses<M> {
    spans: Vec<ReverseSpan>,
    /// How many of them hold behind every head.
    steady: usize,
    /// Of each of the others, how many heads it holds behind, the least first.
    heads: Vec<u32>,
    /// What each leaves beside the idler's pin, where that matters: then none
    /// counts as one that holds behind every head, and each has one idler.
    beside: Vec<Beside>,
    /// Idlers in all spans before this one; one longer than `spans`.
    idlers_before: Vec<u64>,
    /// Pieces of span `i`: `pieces[first_piece[i]..first_piece[i + 1]]`.
    first_piece: Vec<u32>,
    pieces: Vec<Piece<M>>,
    /// How many distinct masks the pieces have.
    pub(super) classes: usize,
    least_volume: Least,
    volumes: Volumes,
}

/// Σ OD² of every gearing, µm².
#[derive(Debug)]
enum Volumes {
    /// Of plain gears: that of an idler, by module and teeth from `least` on, is
    /// added to those of the gears it runs between.
    Plain { least: u32, of: Vec<Vec<u64>> },
    /// Else one for each idler of each span.
    Listed(Vec<u64>),
}

impl<M: Mask> Reverses<M> {
    /// Where reverse shares its driver, the spans of one driver stand together,
    /// and its blank counts with the speed that it is cut for.
    pub(super) fn new(
        problem: &Problem,
        gears: &GearTable,
        meter: &Meter,
        list: &ReverseList,
        strong: Option<&Strong<'_>>,
        passing: Option<&Passing<'_>>,
    ) -> Self {
        let shares = problem.shared_speed().is_some();
        let mut held = held_spans(problem, list, strong);
        if passing.is_some() {
            held = held.into_iter().flat_map(singles).collect();
        }
        // Where the pin tells them apart behind every head, none counts as steady.
        let is_steady = |holding: &Holding| passing.is_none() && holding.heads == u32::MAX;
        by_ratio(&mut held, shares, is_steady);
        let steady = held.partition_point(|(_, holding)| is_steady(holding));
        let spans: Vec<ReverseSpan> = held.iter().map(|(span, _)| *span).collect();
        let plain = list.made() == 0 && held.iter().all(|(_, holding)| holding.units == 1);
        let mut idlers_before = Vec::with_capacity(spans.len() + 1);
        let mut first_piece = Vec::with_capacity(spans.len() + 1);
        let mut cutting = Cutting {
            problem,
            gears,
            meter,
            list,
            shares,
            pieces: Vec::with_capacity(spans.len()),
            volumes: (!plain).then(Vec::new),
        };
        let mut total = 0_u64;
        for (i, (span, holding)) in held.iter().enumerate() {
            idlers_before.push(total);
            first_piece.push(small(cutting.pieces.len()));
            total += u64::from(span.idler_max.get() + 1 - span.idler_min.get());
            cutting.split(span, holding.units, small(i));
        }
        let Cutting {
            mut pieces,
            volumes,
            ..
        } = cutting;
        idlers_before.push(total);
        first_piece.push(small(pieces.len()));
        let classes = classify(&mut pieces);
        let least_of = |i: usize| {
            let own = first_piece[i] as usize..first_piece[i + 1] as usize;
            pieces[own].iter().map(|piece| piece.volume).min()
        };
        let least: Vec<u64> = (0..spans.len()).filter_map(least_of).collect();
        let volumes = volumes.map_or_else(|| Volumes::plain(problem, gears), Volumes::Listed);
        let edge = held[steady..].iter();
        Self {
            least_volume: Least::new(least.into_iter()),
            heads: edge.map(|(_, holding)| holding.heads).collect(),
            beside: passing.map_or_else(Vec::new, |passing| {
                let beside = |span: &ReverseSpan| passing.beside(span, span.idler_min);
                spans.iter().map(beside).collect()
            }),
            steady,
            spans,
            idlers_before,
            first_piece,
            pieces,
            classes,
            volumes,
        }
    }

    /// The gearings, of one driving gear where there is one, that lie inside
    /// `window` behind a head and hold there.
    pub(super) fn behind(
        &self,
        driver: Option<(ModuleId, Teeth)>,
        (head, place): (Ratio, u32),
        window: Window,
    ) -> Run {
        let all = [0..self.steady, self.steady..self.spans.len()];
        let [steady, edge] = all.map(|among| {
            let own = driver.map_or(among.clone(), |driver| self.of_driver(&among, driver));
            self.window(&own, head, window)
        });
        let holds = |span: &usize| self.heads[span - self.steady] > place;
        self.run(steady, edge.filter(holds).collect())
    }

    /// Those at these places, of which none counts as one that always holds.
    pub(super) fn those(&self, edge: Vec<usize>) -> Run {
        self.run(0..0, edge)
    }

    fn run(&self, steady: Range<usize>, edge: Vec<usize>) -> Run {
        let least = edge.iter().map(|span| self.least_volume.at(*span)).min();
        Run {
            least_volume: least.unwrap_or(u64::MAX).min(self.least_volume.of(&steady)),
            steady,
            edge,
        }
    }

    /// The run of `among`, spans by ratio, that lies inside `window` behind a
    /// head of ratio `head`.
    fn window(&self, among: &Range<usize>, head: Ratio, window: Window) -> Range<usize> {
        let all = &self.spans[among.clone()];
        let start = all.partition_point(|s| window.is_above(head.then(span_ratio(s))));
        let rest = &all[start..];
        let end = start + rest.partition_point(|s| !window.is_below(head.then(span_ratio(s))));
        among.start + start..among.start + end
    }

    /// The spans among `among` of one driving gear; together only where reverse
    /// shares it.
    fn of_driver(&self, among: &Range<usize>, driver: (ModuleId, Teeth)) -> Range<usize> {
        let own = |s: &ReverseSpan| (s.module, s.driver);
        let spans = &self.spans[among.clone()];
        let start = spans.partition_point(|s| own(s) < driver);
        let end = start + spans[start..].partition_point(|s| own(s) == driver);
        among.start + start..among.start + end
    }

    /// Whether a driving gear has any span.
    pub(super) fn has_driver(&self, driver: (ModuleId, Teeth)) -> bool {
        let all = [0..self.steady, self.steady..self.spans.len()];
        all.iter()
            .any(|among| !self.of_driver(among, driver).is_empty())
    }

    /// Of a run the places of those that leave the pin room beside the gears of a
    /// head, each with the room it leaves.
    pub(super) fn passing<'a>(
        &'a self,
        run: &'a Run,
        head: Beside,
    ) -> impl Iterator<Item = (usize, Beside)> + 'a {
        let all = run.edge.iter().map(|span| (*span, self.beside[*span]));
        all.filter(move |(_, room)| clears(head, *room))
    }

    /// The piece of a run that reverse gears are of.
    pub(super) fn piece_of<'a>(
        &'a self,
        run: &'a Run,
        gears: ReverseGears,
    ) -> Option<&'a Piece<M>> {
        let mut pieces = self.pieces(run);
        pieces.find(|piece| {
            (piece.idler_min..=piece.idler_max).contains(&gears.idler)
                && self.gears(piece, gears.idler) == gears
        })
    }

    pub(super) fn count(&self, run: &Run) -> u64 {
        let idlers =
            |spans: &Range<usize>| self.idlers_before[spans.end] - self.idlers_before[spans.start];
        run.ranges().map(|spans| idlers(&spans)).sum()
    }

    /// The volume of the gearing at `place` among those of `run`.
    pub(super) fn volume_at(&self, run: &Run, mut place: u64) -> u64 {
        for spans in run.ranges() {
            let first = self.idlers_before[spans.start];
            let own = self.idlers_before[spans.end] - first;
            if place >= own {
                place -= own;
                continue;
            }
            let at = first + place;
            let span = self.idlers_before.partition_point(|before| *before <= at) - 1;
            let [from, to] = [span, span + 1].map(|i| self.first_piece[i] as usize);
            let idlers = self.pieces[from..to].iter().flat_map(|p| self.idlers(p));
            let mut left = at - self.idlers_before[span];
            for (_, volume) in idlers {
                if left == 0 {
                    return volume;
                }
                left -= 1;
            }
        }
        0
    }

    /// The pieces of the spans in `run`.
    pub(super) fn pieces<'a>(&'a self, run: &'a Run) -> impl Iterator<Item = &'a Piece<M>> {
        run.ranges().flat_map(|spans| {
            let (start, end) = (self.first_piece[spans.start], self.first_piece[spans.end]);
            &self.pieces[start as usize..end as usize]
        })
    }

    /// All pieces.
    pub(super) fn all(&self) -> &[Piece<M>] {
        &self.pieces
    }

    /// Every idler of a piece with the volume it gives, both rising.
    pub(super) fn idlers(&self, piece: &Piece<M>) -> impl Iterator<Item = (Teeth, u64)> {
        let span = &self.spans[piece.span as usize];
        let volume = move |idler: Teeth| match &self.volumes {
            Volumes::Listed(all) => {
                let before = self.idlers_before[piece.span as usize];
                let place = before + u64::from(idler.get() - span.idler_min.get());
                // A list holds no more than memory can count.
                all[usize::try_from(place).unwrap_or(usize::MAX)]
            }
            Volumes::Plain { least, of } => {
                let own = |idler: Teeth| of[span.module.index()][(idler.get() - least) as usize];
                piece.volume - own(piece.idler_min) + own(idler)
            }
        };
        (piece.idler_min.get()..=piece.idler_max.get())
            .map(Teeth::of)
            .map(move |idler| (idler, volume(idler)))
    }

    /// The gears of a piece with `idler` teeth on the idler.
    pub(super) fn gears(&self, piece: &Piece<M>, idler: Teeth) -> ReverseGears {
        let span = &self.spans[piece.span as usize];
        ReverseGears {
            module: span.module,
            driver: span.driver,
            idler,
            driven: span.driven,
        }
    }
}

/// Reverse gearings that a head brings into tolerance and that hold behind it.
#[derive(Clone, Debug, Default)]
pub(super) struct Run {
    /// Spans that hold behind every head.
    steady: Range<usize>,
    /// Of the others, those that hold behind this one.
    edge: Vec<usize>,
    /// Σ OD² of the gearing that has the least, µm²; the most there is where there
    /// is none.
    pub(super) least_volume: u64,
}

impl Run {
    fn ranges(&self) -> impl Iterator<Item = Range<usize>> + '_ {
        let edge = self.edge.iter().map(|span| *span..span + 1);
        std::iter::once(self.steady.clone()).chain(edge)
    }
}

/// The spans that hold behind some head, in parts that hold alike.
fn held_spans(
    problem: &Problem,
    list: &ReverseList,
    strong: Option<&Strong<'_>>,
) -> Vec<(ReverseSpan, Holding)> {
    let (Some(strong), Some(wanted)) = (strong, problem.reverse()) else {
        return list
            .spans
            .iter()
            .map(|span| (*span, Holding::ANY))
            .collect();
    };
    let parts = |span: &ReverseSpan| strong.parts(list, span, wanted.window());
    list.spans.par_iter().flat_map_iter(parts).collect()
}

/// A part of one idler for each that it has.
fn singles(
    (span, holding): (ReverseSpan, Holding),
) -> impl Iterator<Item = (ReverseSpan, Holding)> {
    let idlers = (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of);
    idlers.map(move |idler| (span.only(idler), holding))
}

/// Those that hold behind every head first, each kind by ratio; where reverse
/// `shares` its driver, the spans of one driver together.
fn by_ratio(
    held: &mut [(ReverseSpan, Holding)],
    shares: bool,
    is_steady: impl Fn(&Holding) -> bool + Sync,
) {
    let driver = |s: &ReverseSpan| shares.then_some((s.module, s.driver));
    held.par_sort_unstable_by_key(|(s, holding)| {
        let edge = !is_steady(holding);
        (edge, driver(s), steepness(s.driven, s.driver), *s)
    });
}

fn span_ratio(span: &ReverseSpan) -> Ratio {
    Ratio::of(span.driven.get(), span.driver.get())
}

fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl Volumes {
    fn plain(problem: &Problem, gears: &GearTable) -> Self {
        let (least, most) = problem
            .reverse()
            .map_or((1, 0), |r| (r.idler_min().get(), r.idler_max().get()));
        let modules = (0..problem.gears().modules().len()).map(ModuleId::new);
        let volume = |module, z| gears.of(problem, module, Teeth::of(z), &Form::PLAIN).volume;
        let of = modules.map(|m| (least..=most).map(|z| volume(m, z)).collect());
        Self::Plain {
            least,
            of: of.collect(),
        }
    }
}

/// Spans being cut into pieces.
struct Cutting<'a, M> {
    problem: &'a Problem,
    gears: &'a GearTable,
    meter: &'a Meter,
    list: &'a ReverseList,
    /// Whether the driver is the gear of a speed, whose blank counts there.
    shares: bool,
    pieces: Vec<Piece<M>>,
    /// Of every idler of every span, where they must be kept.
    volumes: Option<Vec<u64>>,
}

impl<M: Mask> Cutting<'_, M> {
    /// Appends the runs of idlers of `span` that share a cutter and whose volume
    /// rises with the idler: without shift it always does.
    fn split(&mut self, span: &ReverseSpan, units: u64, place: u32) {
        let plain = self.list.made() == 0;
        let outer = plain.then(|| [span.driver, span.driven].map(|z| self.plain(span, z)));
        let slot = Slot::reverse(self.problem.geared().count());
        let mut last: Option<(M, u64)> = None;
        for idler in (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of) {
            let gears = match outer {
                Some([driver, driven]) => [driver, self.plain(span, idler), driven],
                None => self.made(span, idler),
            };
            let blanks = gears.iter().skip(usize::from(self.shares));
            let volume = units * blanks.map(|gear| gear.volume).sum::<u64>();
            let cutters = gears.map(|gear| gear.cutter);
            if let Some(volumes) = &mut self.volumes {
                volumes.push(volume);
            }
            let mask: M = self.meter.mask(slot, &gears);
            let goes_on = last.is_some_and(|(same, below)| same == mask && below <= volume);
            last = Some((mask, volume));
            match self.pieces.last_mut() {
                Some(piece) if goes_on => piece.idler_max = idler,
                _ => self.pieces.push(Piece {
                    span: place,
                    idler_min: idler,
                    idler_max: idler,
                    volume,
                    mask,
                    cutters: distinct(cutters),
                    class: 0,
                }),
            }
        }
    }

    fn plain(&self, span: &ReverseSpan, teeth: Teeth) -> GearEntry {
        self.gears
            .of(self.problem, span.module, teeth, &Form::PLAIN)
    }

    fn made(&self, span: &ReverseSpan, idler: Teeth) -> [GearEntry; 3] {
        let [driver, middle, driven] = self.list.forms(span, idler);
        let of = |teeth, form| self.gears.of(self.problem, span.module, teeth, form);
        [
            of(span.driver, &driver),
            of(idler, &middle),
            of(span.driven, &driven),
        ]
    }
}

/// Each cutter once.
fn distinct([one, other, third]: [u32; 3]) -> [u32; 3] {
    let unless = |same: bool, cutter| if same { NO_CUTTER } else { cutter };
    [
        one,
        unless(other == one, other),
        unless(third == one || third == other, third),
    ]
}

/// Numbers the distinct masks of pieces and says how many there are.
fn classify<M: Mask>(pieces: &mut [Piece<M>]) -> usize {
    let mut classes = 0;
    let mut last: Option<M> = None;
    for at in places_by_mask(pieces, |piece| &piece.mask, |_| [0; 2]) {
        let piece = &mut pieces[at as usize];
        if last != Some(piece.mask) {
            last = Some(piece.mask);
            classes += 1;
        }
        piece.class = small(classes - 1);
    }
    classes
}

/// Narrow sets of cutters are compared faster than their choices are looked up.
const NARROW_BYTES: usize = 16;

/// How many pieces each is held against where masks hold what comes in many
/// kinds.
const FEW_RIVALS: usize = 64;

/// Of pieces by rising volume, those that no earlier one beats: by the same
/// cutters or by some of them, those that `owned` holds left aside.
pub(super) fn unbeaten_pieces<M: Mask>(
    pieces: impl IntoIterator<Item = Piece<M>>,
    owned: &M,
) -> Vec<Piece<M>> {
    let mut kept: Vec<Piece<M>> = Vec::new();
    // The look-up knows cutters alone.
    if M::HOLDS_MORE || size_of::<M>() <= NARROW_BYTES {
        // Wide masks are seldom within each other: a beaten piece more is a waste,
        // never wrong.
        let rivals = if M::EMPTY.fine().is_empty() {
            usize::MAX
        } else {
            FEW_RIVALS
        };
        for piece in pieces {
            let mut rivals = kept.iter().take(rivals);
            if !rivals.any(|k| k.mask.within(&piece.mask)) {
                kept.push(piece);
            }
        }
        return kept;
    }
    let mut seen: BTreeSet<[u32; 3]> = BTreeSet::new();
    for piece in pieces {
        if seen_some(&seen, &piece, owned) {
            continue;
        }
        seen.insert(beyond(&piece, owned, 0b111));
        kept.push(piece);
    }
    kept
}

/// Whether some of the piece's cutters were seen on their own. It has three at
/// most, so that every choice of them can be looked up.
fn seen_some<M: Mask>(seen: &BTreeSet<[u32; 3]>, piece: &Piece<M>, owned: &M) -> bool {
    (0..8).any(|chosen| seen.contains(&beyond(piece, owned, chosen)))
}

/// The chosen cutters of a piece that are not owned, ascending.
fn beyond<M: Mask>(piece: &Piece<M>, owned: &M, chosen: u32) -> [u32; 3] {
    let mut own = piece.cutters;
    for (i, cutter) in own.iter_mut().enumerate() {
        let left = chosen & 1 << i == 0;
        if left || (*cutter != NO_CUTTER && owned.has(*cutter as usize)) {
            *cutter = NO_CUTTER;
        }
    }
    own.sort_unstable();
    own
}
