import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    // Both cores of a small machine; left alone, one would only be watched.
    maxWorkers: 2,
    projects: [
      {
        test: {
          name: "library",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**"],
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.ts"],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
