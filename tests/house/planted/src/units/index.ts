import { layOut } from "../layout/index.ts";

export const unit = layOut;
