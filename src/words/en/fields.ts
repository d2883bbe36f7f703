/** What a field says when it could not be read: the reason, and what would be right. */
export const fields = {
  missing: 'Please fill this in.',
  tooLong: (most: number) => `At most ${most} letters.`,
  notThereThen: 'This bed is not there on that day.',
  notChosen: 'Please choose one of the list.',
  noSuchDay: 'This is not a day of the calendar. Write it as 2027-03-28.',
  notWeight: 'This is no weight. Write for example 1.5, 1,5 kg, 850 g or 3 lb 4 oz.',
  unknownUnit: 'This unit is not known here. Use g, kg, lb or oz.',
  notTime: 'This is no time. Write for example 1.5 (hours), 1:30, 90 min or 2 x 1:30.',
  notArea: 'This is no area. Write for example 7.2, 7,2 m2, 1.2 x 6 or 80 ft2.',
  notLength: 'This is no length. Write for example 15, 15 cm, 150 mm or 6 in.',
  notPerArea: 'This is no amount on ground. Write for example 170, 170 kg/ha or 17 g/m2.',
  notMoney: (currency: string) => `This is no amount of money. Write for example 12.50, in ${currency}.`,
  notPrinted: 'Please write a number, for example 3 or 2,5, or a limit such as <5.',
  notNumber: 'Please write a number, for example 3 or 2,5.',
  twoReadings: (asDecimal: string, asThousands: string) =>
    `This can be read as ${asDecimal} or as ${asThousands}. Write the one you mean, just like that.`,
  notWhole: 'Please write a whole number.',
  atLeast: (least: number) => `It must be at least ${least}.`,
  atMost: (most: number) => `It must be at most ${most}.`,
  moreThanNothing: 'It must be more than nothing.',
  notEmail: 'This is no e-mail address. It looks like name@example.org.',
}
