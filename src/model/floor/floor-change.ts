import { untoldChange, type ChangeBetween } from "../contrast/fitted-change.ts";
import { floorSlopes, nothingLeft, outsideFloor, type FloorAsked } from "./predict-floor.ts";

/**
 * The change of the logarithm of the median between two places, by the curve's own slopes at the estimate (Bates and Watts 1988, section 2.3). Above a floor
 * each factor's effect depends on all the others, so that every factor must be given.
 */
export function floorChange(asked: FloorAsked): ChangeBetween {
  const { fit } = asked;
  const { at, cross } = floorSlopes(asked);
  const variance = fit.residualSumOfSquares / fit.df;
  return (from, to) => {
    const [lower, upper] = [at(from), at(to)];
    const extrapolation = [...new Set([...outsideFloor(asked, from), ...outsideFloor(asked, to)])];
    if (Number.isNaN(upper.value - lower.value))
      return untoldChange(`at one end ${nothingLeft}`, { stands: [], absent: [], extrapolation });
    const step = upper.slopes.map((slope, k) => slope - lower.slopes[k]);
    return {
      estimate: upper.value - lower.value,
      standardError: Math.sqrt(variance * Math.max(0, cross(step))),
      df: fit.df,
      reason: "",
      stands: [],
      absent: [],
      extrapolation,
    };
  };
}
