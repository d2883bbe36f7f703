/** The week's form on paper. */
export const sheet = {
  title: (week: string) => `Sheet for week ${week}`,
  link: 'The sheet to print, and to type from',
  toWeek: 'To the week',
  toTyping: 'Type a filled sheet',
  printHint: 'Print this page: it is made for A4. Rows and gardens stand as on the screen.',
  filledIn: 'Filled in by, and the day',
  weightsHint: (unit: string) =>
    `Net, in ${unit}. 2.5 / 0.4 forked: 2.5 good, 0.4 not, and why. Another day before it: Tu 1.2. ` +
    'Blank where nothing was picked.',
  labels: 'Crates with a label',
  labelsHint: 'In the order of the letters. Which planting a label stands for is told when the week is closed.',
  losses: 'Losses',
  lossesHint: 'What was lost of what still stood, in per cent: 100 where all of it was.',
  columns: {
    planting: 'Planting',
    day: 'Day',
    share: 'Share lost',
    cause: 'Cause',
    nextDoor: 'Lost next door too',
  },
  cellSentBefore:
    'Something else was stored from this cell before. Correct it on the Week page, and type here what it said then.',
}
