/*
 * Hand the trial to another shop: one page that opens without a network, with the data inside it, and the same data as a package.
 */
import { notebook, openTrial, publish, writeFinding } from "trycut";

export default notebook({ title: "Publishing the seal-face trial" }, async (page) => {
  const trial = await openTrial("seal-face-factorial");
  const finding = publish(trial, { date: "2026-11-25" });
  await writeFinding(trial.folder, finding);
  page.prose(`
The page is \`experiments/${trial.name}/finding/index.html\`, the data package \`${trial.name}.zip\` beside it.

Whoever gets the page can read it without Trycut, check the sum of the data against **${finding.checksum.slice(0, 16)}…** and fit the
readings again: they stand in the page and, as CSV files with a description, in the package.
`);
});
