/** Where a page of a long list lies in it, and the ways on. */
export const turning = {
  pagesOf: (name: string) => `${name}, page by page`,
  range: (from: string, to: string, of: string) => `${from} to ${to} of ${of}`,
  before: 'Those before',
  after: 'The next',
}
