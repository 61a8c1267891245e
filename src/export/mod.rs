//! Results as files for other programs: JSON and CSV, SVG and DXF, STL and 3MF.
//!
//! In: a checked problem and what a search found. Out: text through a writer.
//! Assumed: the sets belong to the problem. Nothing is decided here that the
//! earlier stages have not; screens are drawn from the same records.

mod answer;
mod asked;
mod bench;
mod cautions;
mod check;
mod compare;
mod csv;
mod drawing;
mod dxf;
mod explain;
mod gear;
mod idler;
mod layout;
mod metal;
mod object;
mod record;
mod report;
mod sheets;
mod shortfall;
mod stl;
mod stock;
mod strength;
mod svg;
mod sweep;
mod threemf;
mod trial;
mod work;

pub use answer::{Answer, NearerRecord, Stats, least_json};
pub use asked::AskedRecord;
pub use bench::{BenchWork, OuterShafts, Refused, WorkedMesh, bench_record};
pub use cautions::{PRINTED_GEARS, TURNING_CAUTIONS, UNRATED, cautions, strength_cautions};
pub use check::{CheckAnswer, RatioRow};
pub use compare::{Better, CompareRow, Comparison, Contender, Standing, ToolRecord};
pub use csv::write_csv;
pub use drawing::DrawingRecord;
pub use dxf::dxf;
pub use explain::{
    ClashRecord, ClashesRecord, ExplainRecord, GainRecord, ReachRecord, StepRecord, WayRecord,
    demand_names,
};
pub use gear::{CutterRecord, GearRecord};
pub use idler::IdlerAnswer;
pub use layout::LayoutAnswer;
pub use metal::{MetalRecord, PlaceSafety};
pub use record::{
    HeadRecord, PlaceRecord, RemarkRecord, ReverseRecord, SetRecord, SpeedRecord, set_record,
};
pub use report::{
    FieldRecord, MOST_SETS, Packed, ReportSource, WRITTEN_BY, report_record, shown_sets,
    write_report,
};
pub use sheets::{GearSheet, gear_sheets};
pub use shortfall::{ShortfallRecord, StrongestRecord, WeakPlaceRecord};
pub use stl::write_stl;
pub use stock::{StockAnswer, why_words};
pub use strength::{
    AskedSafety, BearingHours, FactorRecord, GearRating, LewisRecord, MeshRating, PartRecord,
    StrengthRecord, Taken, TakenRecord, UnratedRecord, WeakestRecord, least_safety,
};
pub use svg::svg;
pub use sweep::{BestRecord, RowRecord, SweepRecord, write_sweep_csv};
pub use threemf::write_3mf;
pub use trial::{
    TrialBlock, TrialCell, TrialHead, TrialPart, TrialTable, found_words, over_pins, trial_parts,
};
pub use work::{CutsRecord, CutterUse, DividingErrors, Page, PlateRecord, SetUpRecord, Work};
