import { Figures } from "../plan/plan-pieces.tsx";
import { comparison, marked } from "./choice-state.ts";

/** Two layouts beside each other, line by line and figure by figure. */
export function Comparison() {
  const got = comparison.value;
  if (got === null) {
    return marked.value.length === 1 ? <p class="soft">Mark one more to compare the two.</p> : null;
  }
  return (
    <section class="view" aria-labelledby="comparison">
      <h3 id="comparison">The two beside each other</h3>
      <div class="scroll" tabIndex={0} role="region" aria-label="Comparison, line by line">
        <table class="beside">
          <thead>
            <tr>
              <th scope="col">
                <span class="heard-only">What is compared</span>
              </th>
              {got.titles.map((title) => (
                <th scope="col" key={title}>
                  {title}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {got.lines.map(({ what, texts }) => (
              <tr key={what} class={new Set(texts).size > 1 ? "differs" : ""}>
                <th scope="row">{what}</th>
                {texts.map((text, index) => (
                  <td key={index}>{text === "" ? "not stated" : text}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Figures figures={[...got.figures, ...got.own.flat()]} />
    </section>
  );
}
