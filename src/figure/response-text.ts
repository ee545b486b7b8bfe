import type { FigureTable } from "./figure.ts";
import { settingText } from "./fit-curve.ts";
import { confidenceText, countText, readingsOf, runMean } from "./fitted-rows.ts";
import { roundedText } from "./number-text.ts";
import type { ResponseScene } from "./response-scene.ts";
import { heading, withUnit } from "./shown.ts";
import { extent } from "../numerics/index.ts";
import { formatNumber } from "../units/index.ts";
import type { Setting } from "../trial/index.ts";

/** Title, note and text alternative of a response figure. */
export function responseText(
  scene: ResponseScene,
  thinning: string,
): { readonly title: string; readonly note: string; readonly description: string } {
  const { fit, along, apart, shown } = scene;
  const response = fit.response.name;
  const title = `${response} against ${along.name}${apart === null ? "" : `, by ${apart.name}`}`;
  const [low, high] = extent(fit.rows.flatMap((row) => readingsOf(row, fit)).map(shown.y.value));
  const sentences = [
    `${title}: ${countText(fit)}, from ${roundedText(low)} to ${withUnit(roundedText(high), shown.y.unit)}.`,
    ...scene.groups.map((group) => curveSentence(scene, group)),
    limitSentence(scene),
    idealSentence(scene),
    scene.readings === "adjusted"
      ? "Readings are adjusted to the settings of the curve by what the fit says the other factors did."
      : "",
    noIntervalSentence(scene),
    thinning,
  ];
  return { title, note: countText(fit), description: sentences.filter((each) => each !== "").join(" ") };
}

/** Why there is no interval, or none on some curve; what lies outside the runs is named. */
function noIntervalSentence({ fit, groups }: ResponseScene): string {
  if (fit.noInterval !== "") return `No interval: ${fit.noInterval}`;
  const outside = new Set(
    groups.flatMap(({ curve }) => curve.flatMap(({ prediction }) => prediction.extrapolation)),
  );
  return outside.size === 0
    ? ""
    : `A curve hangs on more than these runs can tell: ${[...outside].join(", ")}.`;
}

function curveSentence(scene: ResponseScene, group: ResponseScene["groups"][number]): string {
  const { along, display, shown, fit } = scene;
  const points = along.kind === "category" ? group.curve : [group.curve[0], group.curve.at(-1)];
  const said = points.flatMap((point) => {
    if (point === undefined) return [];
    const { estimate, mean, single } = point.prediction;
    const number = (value: number): string => roundedText(shown.y.value(value));
    const interval =
      mean === null
        ? ""
        : ` (${confidenceText(fit.confidence)} for the mean ${number(mean.low)} to ${number(mean.high)}` +
          (single === null || scene.single === "hidden"
            ? ")"
            : `, for a single run ${number(single.low)} to ${number(single.high)})`);
    return [`${number(estimate)}${interval} at ${settingText(along, point.setting, display)}`];
  });
  const where = group.label === "" ? "" : ` at ${group.label}`;
  return `The fit${where} gives ${[...new Set(said)].join(", ")}.`;
}

function limitSentence(scene: ResponseScene): string {
  if (scene.limit === null) return "";
  const limit = scene.shown.y.value(scene.limit);
  const text = withUnit(formatNumber(limit), scene.shown.y.unit);
  if (scene.forbidden === "neither") return `The target is ${text}.`;
  const readings = scene.fit.rows.flatMap((row) => readingsOf(row, scene.fit));
  const beyond = readings.filter((value) =>
    scene.forbidden === "above" ? value > (scene.limit ?? 0) : value < (scene.limit ?? 0),
  );
  const form = scene.readings === "adjusted" ? ", as they were read," : "";
  return `The limit is ${text}; ${beyond.length} of ${readings.length} readings${form} lie ${scene.forbidden} it.`;
}

function idealSentence(scene: ResponseScene): string {
  const first = scene.ideal[0];
  const last = scene.ideal.at(-1);
  if (first === undefined || last === undefined) return "";
  const number = (value: number): string => roundedText(scene.shown.y.value(value));
  const at = (value: number): string => settingText(scene.along, value, scene.display);
  return `Dotted: ${scene.idealLabel}, ${number(first.y)} at ${at(first.x)} and ${number(last.y)} at ${at(last.x)}.`;
}

/** One row a run: where it was cut, what was read, what the fit says there. */
export function responseTable(scene: ResponseScene): FigureTable {
  const { fit, shown } = scene;
  const said = confidenceText(fit.confidence);
  const y = shown.y.unit;
  const columns = [
    "run",
    ...fit.factors.map((factor) =>
      heading(factor.name, factor.name === scene.along.name ? shown.x.unit : factor.unit),
    ),
    heading(fit.response.name, y),
    "readings",
    heading("lowest", y),
    heading("highest", y),
    heading("fitted", y),
    heading(`${said} mean low`, y),
    heading(`${said} mean high`, y),
  ];
  const rows = fit.rows.map((row) => {
    const { estimate, mean } = fit.predict(row.settings);
    const [low, high] = extent(readingsOf(row, fit));
    const cut = (name: string): Setting | null => row.settings[name] ?? null;
    return [
      row.run,
      ...fit.factors.map((factor) => {
        const setting = cut(factor.name);
        return factor.name === scene.along.name && typeof setting === "number"
          ? shown.x.value(setting)
          : setting;
      }),
      shown.y.value(runMean(row, fit)),
      row.readings,
      shown.y.value(low),
      shown.y.value(high),
      shown.y.value(estimate),
      mean === null ? null : shown.y.value(mean.low),
      mean === null ? null : shown.y.value(mean.high),
    ];
  });
  return { columns, rows };
}
