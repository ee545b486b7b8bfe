import type { UnitName } from "./unit-table.ts";

/** The parts that units are made of, by canonical spelling, with the other spellings that people type for each. */
export const partSpellings: Readonly<Record<string, readonly string[]>> = {
  µm: ["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"],
  mm: ["millimetre", "millimetres", "millimeter", "millimeters"],
  cm: ["centimetre", "centimetres", "centimeter", "centimeters"],
  m: ["metre", "metres", "meter", "meters"],
  µin: ["uin", "µinch", "uinch", "microinch", "microinches", 'µ"', 'u"'],
  nm: ["nanometre", "nanometres", "nanometer", "nanometers"],
  thou: ["thous", "thousandth", "thousandths", "thousandths of an inch"],
  in: ["inch", "inches", '"'],
  ft: ["foot", "feet", "'"],
  rev: ["r", "revolution", "revolutions", "revs", "turn", "tr", "U"],
  tooth: ["teeth", "z", "flute", "flutes", "tth", "insert"],
  min: ["minute", "minutes", "mins", "mn"],
  s: ["sec", "second", "seconds", "secs"],
  h: ["hr", "hour", "hours", "hrs"],
  L: ["l", "litre", "litres", "liter", "liters"],
  g: ["gram", "grams", "gramme", "grammes"],
  kg: ["kilogram", "kilograms", "kilo", "kilos"],
  oz: ["ounce", "ounces"],
  lb: ["lbs", "pound", "pounds", "lbm"],
  N: ["newton", "newtons"],
  kN: ["kilonewton", "kilonewtons"],
  lbf: ["lbsf", "pound-force", "pounds-force"],
  "mm²": ["mm2", "mm^2", "sq mm"],
  "cm²": ["cm2", "cm^2"],
  "in²": ["in2", "in^2", "sq in", "inch²", "inch2"],
  "mm³": ["mm3", "mm^3"],
  "cm³": ["cm3", "cm^3", "cc", "ccm"],
  "in³": ["in3", "in^3", "cu in", "inch³", "inch3"],
  "m³": ["m3", "m^3"],
  "s²": ["s2", "s^2"],
  W: ["watt", "watts"],
  kW: ["kilowatt", "kilowatts"],
};

/** Spellings of whole units that do not follow from their parts. */
export const unitSpellings: Readonly<Partial<Record<UnitName, readonly string[]>>> = {
  "in/rev": ["ipr"],
  "in/tooth": ["ipt"],
  "in/min": ["ipm"],
  "ft/min": ["sfm", "sfpm", "fpm", "surface ft/min", "surface feet per minute"],
  "m/min": ["smm", "mpm", "surface m/min", "surface metres per minute", "surface meters per minute"],
  "mm/min": ["mmpm"],
  "mm/rev": ["mmpr"],
  "mm/tooth": ["mmpt"],
  "rev/min": ["rpm", "1/min", "min-1", "min^-1"],
  "rev/s": ["rps"],
  Hz: ["hertz", "1/s", "s-1"],
  "°": ["deg", "degree", "degrees"],
  rad: ["radian", "radians"],
  hp: ["horsepower", "bhp"],
  psi: ["lbf/in²", "lb/in²"],
  "N·m": ["Nm", "newton-metre", "newton-metres", "newton-meter", "newton-meters"],
  "N·cm": ["Ncm"],
  "lbf·ft": ["ft·lbf", "ft·lb", "lb·ft", "ftlb", "ftlbs", "foot-pound", "foot-pounds"],
  "lbf·in": ["in·lbf", "in·lb", "lb·in", "inlb", "inlbs", "inch-pound", "inch-pounds"],
  "°C": ["C", "degc", "celsius", "deg c"],
  "°F": ["F", "degf", "fahrenheit", "deg f"],
  K: ["kelvin"],
  bar: ["bars"],
  Pa: ["pascal", "pascals"],
  J: ["joule", "joules"],
  A: ["amp", "amps", "ampere", "amperes"],
  HB: ["hbw", "bhn", "brinell"],
  HRC: ["rockwell c"],
  HV: ["vickers"],
  "1": [],
  "%": ["percent", "per cent", "pct"],
};

/** One way to understand a spelling that means different things in different shops. */
export interface DoubtfulMeaning {
  readonly meaning: string;
  readonly unit: UnitName;
  /** One of the spelling is this decimal times `unit`. */
  readonly size: string;
}

export const doubtfulSpellings: Readonly<Record<string, readonly DoubtfulMeaning[]>> = {
  mil: [
    { meaning: "thousandths of an inch", unit: "in", size: "0.001" },
    { meaning: "millimetres", unit: "mm", size: "1" },
  ],
  tenth: [
    { meaning: "ten-thousandths of an inch", unit: "in", size: "0.0001" },
    { meaning: "tenths of a millimetre", unit: "mm", size: "0.1" },
  ],
  micro: [
    { meaning: "micrometres", unit: "µm", size: "1" },
    { meaning: "microinches", unit: "µin", size: "1" },
  ],
};

/** Other spellings of the doubtful ones. */
export const doubtfulAliases: Readonly<Record<string, string>> = {
  mils: "mil",
  tenths: "tenth",
  micros: "micro",
  µ: "micro",
  u: "micro",
  mu: "micro",
  my: "micro",
};
