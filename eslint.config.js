import js from "@eslint/js";
import tseslint from "typescript-eslint";

export default tseslint.config(
  {
    ignores: [
      "node_modules",
      "src/bench/built",
      "src/built",
      "tests/fixtures",
      "tests/house/planted",
      "experiments",
      "**/*.html",
    ],
  },
  js.configs.recommended,
  ...tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        projectService: { allowDefaultProject: ["*.js", "*.cjs", ".*.cjs", "src/cli/*.mjs"] },
      },
    },
    rules: {
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/consistent-type-imports": "error",
      "@typescript-eslint/require-await": "off",
      "max-lines": ["error", { max: 300, skipBlankLines: true, skipComments: true }],
      eqeqeq: "error",
      "no-console": "error",
    },
  },
  {
    files: [
      "src/cli/**",
      "tests/measure/**",
      "tests/coverage/**",
      "tests/demo/**",
      "tests/browser/**",
      ".ci/**",
    ],
    rules: { "no-console": "off" },
  },
  // The public library is one list of names, read like a table of contents: splitting it would hide half of it.
  { files: ["src/index.ts"], rules: { "max-lines": "off" } },
  { files: ["**/*.js", "**/*.mjs", "**/*.cjs"], ...tseslint.configs.disableTypeChecked },
  { files: ["**/*.cjs"], languageOptions: { globals: { module: "writable" } } },
);
