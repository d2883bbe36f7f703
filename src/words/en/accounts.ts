export const accounts = {
  front: {
    title: 'Which way of growing is worth its work, on your ground?',
    lead:
      'Evenground keeps the weights, hours and costs of your trial gardens week by week and sets the ways of ' +
      'growing side by side: what differs, how sure that is, and what cannot be told.',
    example: 'From an example of five invented gardens',
    honestTitle: 'How it counts',
    honest: [
      'A bed that failed counts as zero, with its area in.',
      'Unlike crops are not compared as like.',
      'A week that nobody closed is unknown, not zero.',
      'One garden is not a method, and the page says so.',
    ],
    signIn: 'Sign in',
    signUp: 'Make an account',
    groups: 'Your groups',
    noGroups: 'You are in no group yet.',
    newGroup: 'Start a new group',
  },
  signUp: {
    title: 'Make an account',
    name: 'Your name',
    email: 'E-mail',
    password: 'Password',
    passwordHint: 'Ten letters or more. A short sentence is easy to keep in mind.',
    save: 'Make the account',
    taken: 'There is an account with this address already. Sign in instead.',
  },
  signIn: {
    title: 'Sign in',
    email: 'E-mail',
    password: 'Password',
    save: 'Sign in',
    wrong: 'The address and the password do not go together.',
  },
  group: {
    toEnding: 'Delete the group',
    newTitle: 'Your group and where it grows',
    newLead: 'The country gives the currency, the time zone and the way numbers are written. All of it can be changed.',
    country: 'Country',
    choose: 'Choose',
    asInCountry: 'as in the country',
    asInCountrySummary: 'Another currency, time zone or way of writing numbers',
    noCountry: 'Choose the country.',
    severalTimes: 'This country keeps several times: choose yours.',
    goOn: 'Go on: the gardens',
    settingsTitle: 'Settings',
    name: 'Name of the group',
    currency: 'Currency',
    timeZone: 'Time zone',
    locale: 'Numbers and dates as in',
    weightUnit: 'A weight without a unit is in',
    areaUnit: 'An area without a unit is in',
    labourRateMinorPerHour: 'What an hour of work is worth to you',
    labourRateHint: (currency: string) =>
      `In ${currency}; leave it blank if you count hours alone. The page that thinks a restart through begins ` +
      'with it where it says what the work comes to in money. No measure and no finding uses it: hours are ' +
      'compared as hours.',
    saveSettings: 'Save the settings',
    saved: 'The settings are saved.',
    started: ({ currency, timeZone, locale }: { currency: string; timeZone: string; locale: string }) =>
      `The group is there: prices in ${currency}, days as in ${timeZone.replaceAll('_', ' ')}, numbers as in ` +
      `${locale}. Settings change them.`,
    badCurrency: 'This currency is not known. Write three letters, such as NZD.',
    moneyStands:
      'Prices stand in this record, in this currency: in another one each would be another amount. Keep the ' +
      'currency, or start a group of its own in the other one.',
    badTimeZone: 'This time zone is not known. Write for example Pacific/Auckland.',
    badLocale: 'This is not known. Write for example en-NZ.',
    keepersOnly: 'Only keepers may change these.',
    database: 'Where the record is kept',
    embedded:
      'In the built-in database. It survives a killed process and forces each save to the disk. For records you rely ' +
      'on, use a PostgreSQL server.',
    server: 'On a PostgreSQL server.',
  },
}
