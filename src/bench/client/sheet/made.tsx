/**
 * HTML that the library made and the bench's own server sent: figures and entries, the same as in a published page.
 * It stands inside an element of class "entries", which gives it its look. Whatever came from data was escaped where it was made; nothing else may be given to this component.
 */
export function Made({ html }: { readonly html: string }) {
  return <div class="made" dangerouslySetInnerHTML={{ __html: html }} />;
}
