export const turning = {
  pagesOf: (name: string) => `${name}, Seite für Seite`,
  range: (from: string, to: string, of: string) => `${from} bis ${to} von ${of}`,
  before: 'Die davor',
  after: 'Die nächsten',
}
