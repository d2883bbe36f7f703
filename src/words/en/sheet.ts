/** The week's form on paper, and the grid to type a filled sheet from. */
export const sheet = {
  title: (week: string) => `Sheet for week ${week}`,
  typingTitle: (week: string) => `Type a sheet of week ${week}`,
  link: 'The sheet to print, and to type from',
  toWeek: 'To the week',
  toTyping: 'Type a filled sheet',
  toSheet: 'To the sheet to print',
  printHint: 'Print this page: it is made for A4. Gardens stand in the order in which they are walked.',
  filledIn: 'Filled in by',
  weightsHint: (unit: string) =>
    `Net weights in ${unit}. Leave a line blank where nothing was picked. One line for each time it was picked: use the blank ones.`,
  hoursHint:
    'Time on each task in each garden, as 1:30 or 1.5; for two people 2 x 1:30. Blank means nothing was written down.',
  lossesHint: 'What was lost of what still stood, in per cent: 100 where all of it was.',
  labels: 'Crates with a label',
  labelsHint: 'In the order of the letters. Which planting a label stands for is told when the week is closed.',
  onlyLabels: 'All that stands here is weighed by its label this week.',
  lossLine: (line: number) => `loss ${line}`,
  columns: {
    day: 'Day',
    good: 'Marketable',
    bad: 'Not marketable',
    why: 'Why not',
    pieces: 'Pieces',
    planting: 'Planting',
    share: 'Share lost',
    cause: 'Cause',
    nextDoor: 'Lost next door too',
  },
  nothingStands: 'Nothing stands here this week.',
  typingSay:
    'The same lines in the same order. Type only what is filled in; it is marked as read off paper. Where one cell is not right, nothing is saved and each wrong cell says why. What was picked twice in the week is typed as a second sheet.',
  dayHint: 'A weight without a day is stored on the Thursday of the week; hours need no day.',
  who: 'Who worked, if one name holds for all hours',
  surely: 'Yes, what is asked about below is right',
  save: 'Save the sheet',
  saved: 'The sheet is saved, marked as read off paper.',
  labelledSince:
    'Nothing is saved yet: a planting on this sheet has a label since it was opened. Open the sheet again and type its weight at the label.',
  sentBefore:
    'This sheet was sent before: what it said then is stored, or was removed again. What it says now is not stored yet. Save it once more to store it beside the first.',
  cellSentBefore:
    'Something else was stored from this cell before. Correct it on the Week page, and type here what it said then.',
  blank: 'There is nothing on this sheet yet.',
  notSaved: (count: number) =>
    count === 1
      ? 'Nothing is saved yet: one cell is not right.'
      : `Nothing is saved yet: ${count} cells are not right.`,
  cell: (row: string, column: string) => `${column}, ${row}`,
}
