import { layOut, termCorrelations } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { published, type PublishedGroup } from "./published-group.ts";

const coded = (count: number): readonly Factor[] =>
  Array.from({ length: count }, (_, k) => ({
    kind: "quantity",
    name: `x${k + 1}`,
    unit: "1",
    low: -1,
    high: 1,
    scale: "linear",
    change: "easy",
  }));

const fractions = published("fractions and their resolution (e-Handbook 5.3.3.4.7)", (compare) => {
  // Factors, runs, resolution as printed (from memory, and recounted by searching all fractions).
  const printed = [
    [3, 4, "3"],
    [4, 8, "4"],
    [5, 16, "5"],
    [5, 8, "3"],
    [6, 32, "6"],
    [6, 16, "4"],
    [6, 8, "3"],
    [7, 64, "7"],
    [7, 32, "4"],
    [7, 16, "4"],
    [7, 8, "3"],
    [8, 128, "8"],
    [8, 64, "5"],
    [8, 32, "4"],
    [8, 16, "4"],
    [9, 128, "6"],
    [9, 64, "4"],
    [9, 32, "4"],
    [9, 16, "3"],
    [10, 128, "5"],
    [10, 64, "4"],
    [10, 32, "4"],
    [10, 16, "3"],
    [11, 128, "5"],
    [11, 64, "4"],
    [11, 32, "4"],
    [11, 16, "3"],
    [15, 16, "3"],
    [31, 32, "3"],
  ] as const;
  for (const [factors, runs, resolution] of printed) {
    const layout = layOut({
      factors: coded(factors),
      layout: { kind: "fraction", runs, order: "as-listed" },
    });
    compare(`${factors} factors in ${runs} runs`, resolution, layout.resolution);
  }
});

const axial = published("axial distances (e-Handbook 5.3.3.6.1)", (compare) => {
  const printed = [
    [2, "full", "1.414"],
    [3, "full", "1.682"],
    [4, "full", "2.000"],
    [5, 16, "2.000"],
    [5, "full", "2.378"],
    [6, 32, "2.378"],
    [6, "full", "2.828"],
  ] as const;
  for (const [factors, cube, distance] of printed) {
    const { runs } = layOut({ factors: coded(factors), layout: { kind: "central-composite", cube } });
    const far = runs.flatMap(({ settings }) => Object.values(settings).map(Number));
    compare(`${factors} factors, cube ${cube}`, distance, Math.max(...far));
  }
});

const screening = published("definitive screening of six factors (Jones and Nachtsheim 2011)", (compare) => {
  const factors = coded(6);
  const { runs } = layOut({ factors, layout: { kind: "definitive-screening", order: "as-listed" } });
  compare("runs", "13", runs.length);
  const { terms, correlations } = termCorrelations(runs, factors, { model: "surface" });
  const kind = (label: string) => (label.includes("²") ? "square" : label.includes("×") ? "product" : "main");
  const largest = (one: string, other: string): number =>
    Math.max(
      ...terms.flatMap((a, i) =>
        terms.flatMap((b, j) =>
          i !== j && kind(a.label) === one && kind(b.label) === other
            ? [Math.abs(correlations[i]?.[j] ?? 0)]
            : [],
        ),
      ),
    );
  compare("main effects with one another", "0", largest("main", "main"));
  compare("main effects with squares", "0", largest("main", "square"));
  compare("main effects with products", "0", largest("main", "product"));
  compare("squares with one another", "0.1333", largest("square", "square"));
});

export const publishedLayoutGroups: readonly PublishedGroup[] = [fractions, axial, screening];
