// The record: everything that the program worked out, packed into this page.
// Comes in as base64 of raw-deflated JSON; goes out as one object. The page
// computes nothing of its own beyond places on the screen and differences.

const NEEDS_BROWSER =
  "This page unpacks its record with a part of the browser that this one does not have " +
  "(DecompressionStream). Open the file in a browser of 2023 or newer: Chrome 103, " +
  "Firefox 113, Safari 16.4 or later. Nothing is lost; the file is whole.";

const SPOILED =
  "The record inside this page cannot be unpacked, so the file was cut short or changed on " +
  "its way. Make the page again with layshaft report, or fetch the file again.";

/** A fault with words for the person who opened the page. */
class PageFault extends Error {}

function packedBytes() {
  const text = document.getElementById("record").textContent.trim();
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i += 1) bytes[i] = raw.charCodeAt(i);
  return bytes;
}

async function inflated(bytes) {
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Response(stream).text();
}

function hasInflate() {
  try {
    return Boolean(new DecompressionStream("deflate-raw"));
  } catch (_) {
    return false;
  }
}

/** A list of alike records from columns: { each }, { keys } or { items, lengths }. */
function fromColumns(columns, count) {
  if (columns.each) return columns.each;
  if (columns.items) return fromPlaces(columns);
  const records = Array.from({ length: count }, () => ({}));
  for (const [key, own] of Object.entries(columns.keys)) {
    fromColumns(own, count).forEach((value, place) => { records[place][key] = value; });
  }
  return records;
}

/** Lists from columns, one a place; a place is that of the lists that reach so far. */
function fromPlaces({ items, lengths }) {
  const lists = lengths.map(() => []);
  items.forEach((own, place) => {
    const reach = lists.filter((_, at) => lengths[at] > place);
    fromColumns(own, reach.length).forEach((value, at) => reach[at].push(value));
  });
  return lists;
}

/** The record with its sets by mark; they come in columns, which pack well. */
function unfolded(record) {
  const marks = record.row_marks;
  const sets = fromColumns(record.sets, marks.length);
  record.sets = Object.fromEntries(marks.map((mark, place) => [mark, sets[place]]));
  return record;
}

/** The record, and the JSON that it can be saved as. */
async function readRecord() {
  if (!hasInflate()) throw new PageFault(NEEDS_BROWSER);
  try {
    const record = unfolded(JSON.parse(await inflated(packedBytes())));
    return { json: () => JSON.stringify(record), record };
  } catch (_) {
    throw new PageFault(SPOILED);
  }
}

function showFault(error) {
  const place = document.getElementById("fault");
  place.textContent = error instanceof PageFault
    ? error.message
    : "This page failed while it was drawn: " + error.message + ". The record inside is whole.";
  place.hidden = false;
  if (!(error instanceof PageFault)) console.error(error);
}
