/** A page in plain HTML for who comes without the key, or to nowhere; it needs nothing else from the bench. */
export function refusalPage(status: number, message: string): string {
  const escaped = message.replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);
  return `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Trycut: ${status}</title></head>
<body><main><h1>Trycut</h1><p>${escaped}</p></main></body>
</html>
`;
}
