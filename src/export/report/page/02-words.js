// Figures and names in words: one way to write each kind of number.

const MINUS = "\u2212";
const ARROW = "\u2192";
const THIN = "\u202f"; // thin, and no line is broken at it
const DASH = "\u2013";
const NONE = "\u2014";

/** Thousands apart by thin spaces, as in the program's text. */
function thousands(text) {
  const [whole, part] = String(text).split(".");
  const spaced = whole.replace(/\B(?=(\d{3})+(?!\d))/g, THIN);
  return part === undefined ? spaced : spaced + "." + part;
}

/** `value` to `digits` decimals with a true minus; a dash where there is none. */
function fixed(value, digits) {
  if (value === null || value === undefined || Number.isNaN(value)) return NONE;
  const text = Math.abs(value).toFixed(digits);
  const sign = value < 0 && Number(text) !== 0 ? MINUS : "";
  return sign + thousands(text);
}

/** As `fixed`, with a plus where it is above zero. */
function signed(value, digits) {
  if (value === null || value === undefined) return NONE;
  const text = fixed(value, digits);
  return value > 0 && Number(Math.abs(value).toFixed(digits)) !== 0 ? "+" + text : text;
}

const diameter = (mm) => fixed(mm, 2);
const coordinate = (mm) => fixed(mm, 3);
const inches = (inch) => fixed(inch, 4);
const percent = (value) => fixed(value, 2);
const offBy = (value) => signed(value, 2);
const ratioOf = (value) => fixed(value, 3);
const metal = (mm3) => fixed(mm3 / 1000, 1);
const money = (value) => fixed(value, 2);

/** A figure to three digits, whole from 100 on. */
function figure(value) {
  const size = Math.abs(value);
  return fixed(value, size >= 100 ? 0 : size >= 10 ? 1 : size >= 0.1 ? 2 : 4);
}

/** A figure without needless digits, `digits` at the most: 1.25, 9, 118.8. */
function short(value, digits) {
  if (typeof value !== "number") return String(value);
  const text = fixed(value, digits === undefined ? 4 : digits);
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/** A length along a bar: no needless digits, 0.01 mm at the most. */
const length = (mm) => short(mm, 2);

/** From the least to the most, in one cell. */
function range(pair, digits) {
  return pair ? fixed(pair[0], digits) + DASH + fixed(pair[1], digits) : NONE;
}

function counted(count, one, many) {
  return thousands(count) + " " + (Number(count) === 1 ? one : many);
}

/** `a, b and c`. */
function listed(words) {
  if (words.length < 2) return words.join("");
  return words.slice(0, -1).join(", ") + " and " + words[words.length - 1];
}

function capital(text) {
  return text ? text[0].toUpperCase() + text.slice(1) : text;
}

/** The program writes `->` for a terminal's sake. */
const arrows = (text) => text.replace(/ ?-> ?/g, " " + ARROW + " ");

/** Teeth of a pair or of reverse, driver to driven: `35→68`. */
function teethOf(pair) {
  if (!pair) return "";
  if (pair.direct) return "direct";
  const middle = pair.idler_teeth === undefined ? [] : [pair.idler_teeth];
  return [pair.driver_teeth, ...middle, pair.driven_teeth].join(ARROW);
}

/** What a speed was asked for, in the words of the file. */
function askedOf(pair) {
  const asked = pair.asked;
  if (!asked) return "";
  if (asked.output_rpm !== undefined) return thousands(short(Math.abs(asked.output_rpm))) + " rpm";
  if (asked.road_speed_kmh !== undefined) return short(Math.abs(asked.road_speed_kmh)) + " km/h";
  return ratioOf(pair.target);
}

/** The cutter in a few words: `5 (21–25)`. */
function cutterOf(cutter) {
  if (!cutter) return NONE;
  const teeth = cutter.from_teeth === undefined || cutter.from_teeth === null ? ""
    : " (" + cutter.from_teeth + (cutter.to_teeth ? DASH + cutter.to_teeth : " up") + ")";
  if (cutter.number !== undefined && cutter.number !== null) return cutter.number + teeth;
  return cutter.kind === "form" ? "teeth" + teeth : capital(cutter.kind || "tool") + teeth;
}

/** A gear named by shaft and role, in a sentence. */
function gearWords(name) {
  const [shaft, role] = name.split(", ");
  if (role === "head") return "the " + shaft + " gear of the head pair";
  if (role) return "the " + shaft + " gear of " + role;
  return name === "idler" ? "the idler" : "the " + name + " gear";
}

/** What a remark is about, in a sentence: a speed or a gear by its name. */
function whereWords(set, where) {
  if (set.speeds.some((speed) => speed.name === where)) return "speed " + where;
  return where.includes(", ") ? gearWords(where).replace(/^the /, "") : where;
}

/** A file's name without what a file system may not like. */
const fileStem = (file) => file.replace(/\.[^.]*$/, "").replace(/[^\w-]+/g, "-");
