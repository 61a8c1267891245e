//! Reverse gearings of one centre distance, sorted by ratio, their idlers in
//! runs that share a cutter.

use super::gears::GearTable;
use super::least::Least;
use super::mask::Mask;
use super::space::steepness;
use crate::base::{Ratio, Teeth, Window};
use crate::mesh::ReverseSpan;
use crate::train::ReverseGears;
use std::ops::Range;
use std::sync::Arc;

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
    /// Place of its mask among the distinct masks of all pieces.
    pub(super) class: u32,
}

/// Every reverse gearing of a centre distance, sorted by ratio.
#[derive(Debug)]
pub(super) struct Reverses<M> {
    pub(super) spans: Vec<ReverseSpan>,
    /// Idlers in all spans before this one; one longer than `spans`.
    idlers_before: Vec<u64>,
    /// Pieces of span `i`: `pieces[first_piece[i]..first_piece[i + 1]]`.
    first_piece: Vec<u32>,
    pieces: Vec<Piece<M>>,
    /// How many distinct masks the pieces have.
    pub(super) classes: usize,
    least_volume: Least,
    gears: Arc<GearTable>,
}

impl<M: Mask> Reverses<M> {
    pub(super) fn new(gears: &Arc<GearTable>, mut spans: Vec<ReverseSpan>) -> Self {
        spans.sort_unstable_by_key(|s| (steepness(s.driven, s.driver), *s));
        let mut idlers_before = Vec::with_capacity(spans.len() + 1);
        let mut first_piece = Vec::with_capacity(spans.len() + 1);
        let mut pieces = Vec::with_capacity(spans.len());
        let mut total = 0_u64;
        for (i, span) in spans.iter().enumerate() {
            idlers_before.push(total);
            first_piece.push(small(pieces.len()));
            total += u64::from(span.idler_max.get() + 1 - span.idler_min.get());
            split_by_cutter(gears, span, small(i), &mut pieces);
        }
        idlers_before.push(total);
        first_piece.push(small(pieces.len()));
        let classes = classify(&mut pieces);
        let first = first_piece[..spans.len()].iter();
        let least_volume = Least::new(
            first
                .map(|&p| pieces[p as usize].volume)
                .collect::<Vec<_>>()
                .into_iter(),
        );
        let gears = Arc::clone(gears);
        Self {
            spans,
            idlers_before,
            first_piece,
            pieces,
            classes,
            least_volume,
            gears,
        }
    }

    pub(super) fn window(&self, head: Ratio, window: Window) -> Range<usize> {
        let start = self
            .spans
            .partition_point(|s| window.is_above(head.then(span_ratio(s))));
        let rest = &self.spans[start..];
        start..start + rest.partition_point(|s| !window.is_below(head.then(span_ratio(s))))
    }

    pub(super) fn count(&self, run: &Range<usize>) -> u64 {
        self.idlers_before[run.end] - self.idlers_before[run.start]
    }

    /// The least volume of the gearings in `run`.
    pub(super) fn least_volume(&self, run: &Range<usize>) -> u64 {
        self.least_volume.of(run)
    }

    /// The pieces of the spans in `run`.
    pub(super) fn pieces(&self, run: &Range<usize>) -> &[Piece<M>] {
        &self.pieces[self.first_piece[run.start] as usize..self.first_piece[run.end] as usize]
    }

    /// Every idler of a piece with the volume it gives, both rising.
    pub(super) fn idlers(&self, piece: &Piece<M>) -> impl Iterator<Item = (Teeth, u64)> {
        let module = self.spans[piece.span as usize].module;
        let volume = move |idler| self.gears.of(module, idler).volume;
        let others = piece.volume - volume(piece.idler_min);
        (piece.idler_min.get()..=piece.idler_max.get())
            .map(move |count| (Teeth::of(count), others + volume(Teeth::of(count))))
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

fn span_ratio(span: &ReverseSpan) -> Ratio {
    Ratio::of(span.driven.get(), span.driver.get())
}

fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Appends the runs of idlers of `span` that share a cutter.
fn split_by_cutter<M: Mask>(
    gears: &GearTable,
    span: &ReverseSpan,
    place: u32,
    pieces: &mut Vec<Piece<M>>,
) {
    let driver = gears.of(span.module, span.driver);
    let driven = gears.of(span.module, span.driven);
    let mut last = u32::MAX;
    for count in span.idler_min.get()..=span.idler_max.get() {
        let idler_teeth = Teeth::of(count);
        let idler = gears.of(span.module, idler_teeth);
        if idler.cutter == last {
            if let Some(piece) = pieces.last_mut() {
                piece.idler_max = idler_teeth;
            }
            continue;
        }
        last = idler.cutter;
        let cutters = [driver.cutter, idler.cutter, driven.cutter];
        pieces.push(Piece {
            span: place,
            idler_min: idler_teeth,
            idler_max: idler_teeth,
            volume: driver.volume + idler.volume + driven.volume,
            mask: cutters
                .iter()
                .fold(M::EMPTY, |mask, &c| mask.with(c as usize)),
            class: 0,
        });
    }
}

/// Numbers the distinct masks of pieces and says how many there are.
fn classify<M: Mask>(pieces: &mut [Piece<M>]) -> usize {
    let mut masks: Vec<M> = pieces.iter().map(|p| p.mask).collect();
    masks.sort_unstable();
    masks.dedup();
    for piece in pieces {
        piece.class = small(masks.partition_point(|&mask| mask < piece.mask));
    }
    masks.len()
}

/// Of pieces by rising volume, those that no earlier one beats.
pub(super) fn unbeaten_pieces<M: Mask>(
    pieces: impl IntoIterator<Item = Piece<M>>,
) -> Vec<Piece<M>> {
    let mut kept: Vec<Piece<M>> = Vec::new();
    for piece in pieces {
        if !kept.iter().any(|k| k.mask.within(piece.mask)) {
            kept.push(piece);
        }
    }
    kept
}
