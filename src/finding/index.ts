// The published page, its data package, and reading a page's data back.
export { publish } from "./publish.ts";
export type { Finding, PublishOptions } from "./publish.ts";
export { writeFinding } from "./write-finding.ts";
export type { WrittenFinding } from "./write-finding.ts";
export { extractData } from "./embedded-record.ts";
export type { ReceivedFinding } from "./embedded-record.ts";
export type { ReceivedModel } from "./record-schema.ts";
export type { FindingRecord, PublishedModel } from "./finding-record.ts";
export { dataPackage } from "./data-package.ts";
export type { DataPackage } from "./data-package.ts";
export { chooseModel } from "./choose-model.ts";
export { fitAsPlanned } from "./fit-as-planned.ts";
export type { PlannedFit } from "./fit-as-planned.ts";
export type { ModelChoice, PageModel } from "./choose-model.ts";
export type { AskedModel } from "./fitted-response.ts";
export { growingFacts, settingsText } from "./growing-facts.ts";
export type { GrowingFacts, RecipeToProve } from "./growing-facts.ts";
export { FindingError } from "./error.ts";
