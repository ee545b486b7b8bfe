/**
 * HTML that the library made and the bench's own server sent: figures and entries, the same as in a published page.
 * Whatever came from data was escaped where it was made; nothing else may be given to this component.
 */
export function Made({ html, class: extra = "" }: { readonly html: string; readonly class?: string }) {
  return <div class={`entries made ${extra}`} dangerouslySetInnerHTML={{ __html: html }} />;
}
