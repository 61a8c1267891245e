//! Tables without lines: columns set side by side.

use super::screen::columns;

/// A column of a table.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// One or more lines.
    title: Vec<String>,
    cells: Vec<String>,
    right: bool,
    width: usize,
}

impl Column {
    /// Set flush left; `title` may have several lines.
    pub(super) fn left(title: &str, cells: Vec<String>) -> Self {
        let title: Vec<String> = title.split('\n').map(str::to_owned).collect();
        let widths = title.iter().chain(&cells).map(|cell| columns(cell));
        Self {
            width: widths.max().unwrap_or(0),
            title,
            cells,
            right: false,
        }
    }

    /// Set flush right.
    pub(super) fn right(title: &str, cells: Vec<String>) -> Self {
        Self {
            right: true,
            ..Self::left(title, cells)
        }
    }

    /// Columns that it takes.
    pub(super) const fn width(&self) -> usize {
        self.width
    }

    fn padded(&self, cell: &str) -> String {
        let pad = " ".repeat(self.width - columns(cell));
        if self.right {
            pad + cell
        } else {
            cell.to_owned() + &pad
        }
    }
}

/// A table without lines: its header lines and its rows.
#[derive(Clone, Debug)]
pub(super) struct Table {
    columns: Vec<Column>,
    indent: usize,
}

/// Blank columns between the columns of a table.
const GAP: usize = 2;

impl Table {
    pub(super) fn new(indent: usize, columns: Vec<Column>) -> Self {
        Self { columns, indent }
    }

    /// Columns that the whole takes.
    pub(super) fn width(&self) -> usize {
        let gaps = GAP * self.columns.len().saturating_sub(1);
        self.indent + gaps + self.columns.iter().map(Column::width).sum::<usize>()
    }

    /// The header.
    pub(super) fn head(&self) -> Vec<String> {
        let lines = self
            .columns
            .iter()
            .map(|c| c.title.len())
            .max()
            .unwrap_or(0);
        let cell = |column: &Column, i: usize| column.title.get(i).cloned().unwrap_or_default();
        (0..lines)
            .map(|i| self.line(|column| cell(column, i)))
            .collect()
    }

    /// The rows.
    pub(super) fn rows(&self) -> Vec<String> {
        let rows = self
            .columns
            .iter()
            .map(|c| c.cells.len())
            .max()
            .unwrap_or(0);
        let cell = |column: &Column, i: usize| column.cells.get(i).cloned().unwrap_or_default();
        (0..rows)
            .map(|i| self.line(|column| cell(column, i)))
            .collect()
    }

    fn line(&self, cell: impl Fn(&Column) -> String) -> String {
        let cells: Vec<_> = self.columns.iter().map(|c| c.padded(&cell(c))).collect();
        let line = " ".repeat(self.indent) + &cells.join(&" ".repeat(GAP));
        line.trim_end().to_owned()
    }

    /// The same, each table beginning with the first column.
    pub(super) fn split_named(self, width: usize) -> Vec<Self> {
        let indent = self.indent;
        let mut columns = self.columns.into_iter();
        let Some(names) = columns.next() else {
            return Vec::new();
        };
        let mut parts = vec![Self::new(indent, vec![names.clone()])];
        for column in columns {
            let fits = |part: &Self| part.width() + GAP + column.width() <= width;
            match parts.last_mut() {
                Some(part) if fits(part) => part.columns.push(column),
                _ => parts.push(Self::new(indent, vec![names.clone(), column])),
            }
        }
        parts
    }

    /// Splits into tables that are no wider than `width`, if columns allow.
    pub(super) fn split(self, width: usize) -> Vec<Self> {
        let indent = self.indent;
        let mut parts: Vec<Self> = Vec::new();
        for column in self.columns {
            let fits = |part: &Self| part.width() + GAP + column.width() <= width;
            match parts.last_mut() {
                Some(part) if fits(part) => part.columns.push(column),
                _ => parts.push(Self::new(indent, vec![column])),
            }
        }
        parts
    }
}

/// Adds `lines` to a text.
pub(super) fn push_lines(out: &mut String, lines: &[String]) {
    for line in lines {
        out.push_str(line);
        out.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stand_in_every_part() {
        let column = |title: &str| Column::left(title, vec!["12345".to_owned()]);
        let table = Table::new(1, ["name", "b", "c", "d"].map(column).into());
        let heads: Vec<String> = table.split_named(20).iter().flat_map(Table::head).collect();
        assert_eq!(heads, [" name   b      c", " name   d"]);
    }

    #[test]
    fn tables_split_between_columns() {
        let column = |title: &str| Column::right(title, vec!["12345".to_owned()]);
        let table = Table::new(1, vec![column("a"), column("b"), column("c")]);
        assert_eq!(table.rows(), [" 12345  12345  12345"]);
        let parts = table.split(15);
        assert_eq!(parts.len(), 2);
        assert_eq!(parts[1].head(), ["     c"]);
    }
}
