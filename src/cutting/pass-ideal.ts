import type { TrialSpec } from "../trial/index.ts";
import { readQuantity, valueIn } from "../units/index.ts";
import { CuttingError } from "./error.ts";
import { idealHeight, idealRa } from "./ideal-finish.ts";
import type { PassMotion } from "./pass-motion.ts";
import { lacking } from "./pass-reasons.ts";
import type { PassKind } from "./pass-reasons.ts";
import type { PassSources } from "./pass-sources.ts";
import { wiperNote } from "./wiper.ts";

interface PassIdeal {
  readonly raUm: number | null;
  readonly heightUm: number | null;
  readonly why: string;
}

/** The ideal finish of a run where one edge leaves the marks; else why there is none. */
export function passIdeal(
  spec: TrialSpec,
  sources: PassSources,
  { feedMmPerRev }: PassMotion,
  kind: PassKind,
): PassIdeal {
  const noseRadiusMm = sources.stated.noseRadius?.value;
  const teeth = kind === "turning" ? 1 : (spec.cutter?.teeth ?? null);
  if (noseRadiusMm === undefined) return none(lacking(["noseRadius"], sources, kind));
  if (feedMmPerRev === null) return none(lacking(["feedPerRev"], sources, kind));
  if (teeth === null) return none("Wants the number of teeth: cutter.teeth.");
  if (teeth > 1) {
    return none(
      `With ${teeth} teeth the marks lie between the feed per tooth (all teeth level) and per revolution (one stands out).`,
    );
  }
  const wiper = wiperText(spec, feedMmPerRev);
  if (wiper !== null) return none(wiper);
  try {
    return {
      raUm: idealRa(feedMmPerRev, noseRadiusMm),
      heightUm: idealHeight(feedMmPerRev, noseRadiusMm),
      why: "",
    };
  } catch (cause) {
    if (cause instanceof CuttingError) return none(cause.message);
    throw cause;
  }
}

/** A wiper flat is written as a length; anything else written there still says that there is one. */
function wiperText(spec: TrialSpec, feedMm: number): string | null {
  if (spec.cutter?.wiper === undefined) return null;
  const answer = readQuantity(spec.cutter.wiper, { dimension: "length" });
  if (answer.kind !== "value" || answer.value.value <= 0)
    return "The cutter has a wiper: the cusp of the nose radius does not rule.";
  return wiperNote(feedMm, valueIn(answer.value, "mm")).text;
}

function none(why: string): PassIdeal {
  return { raUm: null, heightUm: null, why };
}
