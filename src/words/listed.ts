/** "a, b and c"; with semicolons where a name has a comma of its own. */
export function listed(names: readonly string[], and: string): string {
  const mark = names.some((name) => name.includes(',')) ? '; ' : ', '
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(mark)} ${and} ${names.at(-1)}`
}
