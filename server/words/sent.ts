/**
 * Marks a sentence that the server sends to people: sent`${name} is late.` It stays English, whoever
 * listens; the page and the report say it in their language by `translated` (language.ts). Pure.
 */
export function sent(strings: TemplateStringsArray, ...holes: (string | number)[]): string {
  let text = strings[0] ?? '';
  for (const [i, hole] of holes.entries()) text += `${hole}${strings[i + 1] ?? ''}`;
  return text;
}
