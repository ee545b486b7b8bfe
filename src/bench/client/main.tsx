import { render } from "preact";
import { App } from "./app.tsx";
import { followLinks } from "./place.ts";

const bench = document.getElementById("bench");
if (bench) {
  followLinks();
  render(<App />, bench);
}
