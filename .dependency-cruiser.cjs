// The house rule of DEVELOPERS.md: a file imports from its own floor or below, through a folder's door, never in a circle.
const floors = [
  ["units", "numerics"],
  ["trial", "cutting", "texture"],
  ["layout", "model", "store"],
  ["review", "figure"],
  ["finding", "notebook"],
  ["bench", "cli"],
];

const noFloorUp = floors.slice(0, -1).map((folders, index) => ({
  name: `floor-${index + 1}-imports-nothing-above`,
  severity: "error",
  comment: `src/{${folders.join(",")}} may not import from a higher floor`,
  from: { path: `(^|/)src/(${folders.join("|")})/` },
  to: {
    path: `(^|/)src/(${floors
      .slice(index + 1)
      .flat()
      .join("|")}|index\\.ts)(/|$)`,
  },
}));

module.exports = {
  forbidden: [
    { name: "no-circle", severity: "error", from: { path: "(^|/)src/" }, to: { circular: true } },
    {
      name: "only-through-the-door",
      severity: "error",
      comment: "import another folder by its index.ts only",
      from: { path: "(^|/)src/([^/]+)/" },
      to: { path: "(^|/)src/[^/]+/", pathNot: ["(^|/)src/$2/", "(^|/)src/[^/]+/index\\.ts$"] },
    },
    {
      name: "outsiders-use-the-library",
      severity: "error",
      comment: "notebooks import from trycut, which is src/index.ts",
      from: { path: "(^|/)notebooks/" },
      to: { path: "(^|/)src/", pathNot: ["(^|/)src/index\\.ts$"] },
    },
    ...noFloorUp,
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    exclude: { path: "(^|/)src/(bench/)?built/" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "types", "default"] },
  },
};
