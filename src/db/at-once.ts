/**
 * What several statements answer that do not depend on each other, asked at once: a server is sent all of them before
 * it answers the first; the built-in engine takes one after the other. Where one fails, none is under way any more when
 * its error is thrown, so that nothing of them comes behind what is asked next.
 */
export const atOnce = allBegun

function allBegun<T extends readonly unknown[] | []>(asked: T): Promise<{ -readonly [K in keyof T]: Awaited<T[K]> }>
async function allBegun(asked: readonly unknown[]): Promise<unknown[]> {
  // A statement of drizzle is asked again each time that somebody waits for it: here each is begun once.
  const begun = asked.map((one) => Promise.resolve(one))
  await Promise.allSettled(begun)
  return Promise.all(begun)
}
