/** Only an address of this service: "//elsewhere" and "/\\elsewhere" would leave it. */
export function withinHere(next: string | undefined): string {
  return next && /^\/(?![/\\])[\w\-./?=&%]*$/.test(next) ? next : '/'
}
