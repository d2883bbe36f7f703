/** Weighing that can be trusted: crates under labels, and weights that two people write down. */
export const weighing = {
  labelled: (label: string) => `label ${label}`,
  toLabels: 'Labels for weighing without knowing which planting it is',
  labelsTitle: (week: string) => `Labels for the crates of week ${week}`,
  labelsSay:
    'Whoever picks puts the label of its planting on each crate; whoever weighs sees the label and writes the ' +
    'weight down under it. So nobody rounds up for the method they like. Label a crop in every garden it stands ' +
    'in: one label alone on it tells its garden. The week shows only labels until the weights of that garden are ' +
    'closed; then they are opened. Closing and reopening those weights is for a keeper: let it be one who does ' +
    'not weigh.',
  labelsLimit:
    'The list below is for whoever picks and is hidden from whoever weighs. Until they are opened the weights ' +
    'count in no figure and stand in no list: not on the page of a garden, not in the comparison, not in a ' +
    'report. The sheet on paper has a line for each label instead of its planting.',
  forPicker: 'For whoever picks',
  slips: 'To cut out',
  slipsSay: 'In the order of the letters, so that it tells nothing.',
  noLabels: 'No crate of this week has a label yet.',
  choose: 'Which plantings get a label',
  chooseSay:
    'Draw the labels before anything is weighed: what was weighed by its name this week is known, and stands ' +
    'here no more.',
  make: 'Draw the labels',
  nothingToLabel:
    'No planting stands this week that has no label, is not weighed yet and whose garden’s weights are open.',
  chooseOne: 'Choose one planting or more.',
  labelsMade: 'The labels are drawn.',
  takeOff: 'Take a label off',
  takeOffSay: 'Its planting is weighed by name again; the weights under it stay.',
  takenOff: 'The label is taken off. The history keeps it.',
  label: 'Label',
  planting: 'Planting',
  state: 'Open or sealed',
  sealed: 'sealed',
  opened: 'opened: the weights of its garden are closed',
  toWeek: 'The week',
  addLabelled: 'Write down a weight for a label',
  labelHint: 'Two letters and a digit, as on the crate',
  noSuchLabel: 'No crate of this week has this label. Look at the crate again.',
  keepersOpen:
    'The crates of this garden have labels this week: only a keeper closes or reopens its weights, since closing ' +
    'opens the labels.',
  keeperCloses: (garden: string) =>
    `The crates of ${garden} have labels this week: a keeper closes and reopens its weights.`,
  sameWeek: 'A weight under a sealed label stays in its week.',
  byItsLabel: 'This planting has a label this week: write its weight down under the label.',
  muchAsk: 'That is a great deal for what this label stands on: is the unit right?',
  secondHeading: 'This week a second person writes down too',
  secondSay:
    'Drawn by chance, in two weeks of a season: someone else reads the scales for the same crates and writes ' +
    'down what they read, without looking at the first. It goes into no sum; it shows how well it is weighed.',
  secondHome: (week: string) => `Week ${week}: this week a second person writes down too.`,
  addSecond: 'Write down what you read as the second person',
  weighed: 'All that you read for it this week, marketable or not, net',
  secondWritten: 'Read by a second person:',
  notDrawn: 'This week is not one of the two of its season in which a second person writes down too.',
  ownWeighing:
    'You wrote down a weight of this planting in this week yourself: a second reading comes from someone else.',
  readAlready: 'A second reading of this planting stands already. Correct that one.',
  secondOf: (week: string) => `Second reading, ${week}`,
}
