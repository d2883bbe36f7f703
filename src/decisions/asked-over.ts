/** What the address says lies over what the record knows: a field that was emptied on purpose stays empty. */
export function askedOver(start: Record<string, string>, asked: Record<string, unknown>): Record<string, string> {
  const typed = Object.keys(start).flatMap((name) => {
    const value = asked[name]
    return typeof value === 'string' ? [[name, value.slice(0, 80)] as const] : []
  })
  return { ...start, ...Object.fromEntries(typed) }
}
