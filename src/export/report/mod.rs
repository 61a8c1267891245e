//! The report: one page that a person opens, all figures inside.
//!
//! In: what a search found, and the sets to show. Out: one HTML file that needs
//! nothing else. Every figure of the page is the program's own JSON, packed
//! into it; the page's scripts only paint. Nothing is decided here.

mod columns;
mod field;
mod pack;
mod page;
mod record;
mod say;
mod written;

pub use field::FieldRecord;
pub use pack::Packed;
pub use page::{WRITTEN_BY, write_report};
pub use record::{MOST_SETS, ReportSource, report_record, shown_sets};
