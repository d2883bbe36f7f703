export const question = {
  title: (season: string) => `The question of ${season}`,
  say:
    'Say what you want to find out before the season gives its answer, and write both sentences now: the one for a ' +
    'difference seen and the one for none. Once it is locked it never changes; next season can ask anew.',
  begun:
    'This season has begun already. A question that is locked now is a late one: Compare says on which day it ' +
    'was locked, and takes it as a look around and not as asked beforehand.',
  lockedOn: (day: string) => `Locked on ${day}. It never changes again.`,
  lockedLate: (day: string) =>
    `Locked late, on ${day}, when the season had begun. It never changes again, and Compare takes it as a look ` +
    'around and not as asked beforehand.',
  fields: {
    question: 'What do you want to find out?',
    reference: 'The method that the others are compared with',
    pairs: 'The pairs that it asks of; leave all blank for each other method beside that one',
    pairsHint:
      'The fewer are named, the narrower are their intervals. A pair that is not named is a look around and is never ' +
      'marked as told.',
    measure: 'By which measure first of all',
    weights: 'Which weights count',
    mix: 'How the matched crops are weighed against each other',
    crops: 'The matched crops that the answer rests on; leave all blank for every one',
    outside: 'Matched sets that lost plants to a cause outside the method',
    margin: 'From how many per cent on does a difference matter to you?',
    marginHint: 'Leave it blank if you cannot say.',
    seasons: 'After how many seasons will you look?',
    seasonsHint: 'Looking every year without a plan finds a difference that is not there more often.',
    seen: 'The sentence if a difference is seen',
    notSeen: 'The sentence if none is seen',
  },
  measures: {
    'matched yield': 'weight per planted m², matched crops',
    'hours per m2': 'hours per m² of bed, without harvest work',
    'hours per kg': 'hours per marketable kg',
    'cost per kg': 'input cost per marketable kg',
  },
  weights: { marketable: 'marketable', all: 'all' },
  mixes: { 'pooled areas': 'by the area planted to them', 'equal parts': 'every crop alike' },
  outside: { counted: 'count as they are', 'set left out': 'are left out in all gardens' },
  save: 'Save the draft',
  saved: 'The draft is saved. It can change until it is locked.',
  lock: 'Lock it',
  lockSay: 'Locking cannot be undone.',
  locked: 'Locked.',
  isLocked: 'This question is locked and never changes. Ask a new one for the next season.',
  changedMeanwhile: (question: string) =>
    `Somebody else wrote this draft meanwhile; it asks: ${question} What you typed stands below and is not ` +
    'stored. Save it once more to put yours in its place.',
  link: 'The question of this season',
  asked: (text: string, day: string) => `Asked, and locked on ${day}: ${text}`,
  askedLate: (text: string, day: string) =>
    `Asked late, and locked on ${day}, when a season that is looked at here had begun: ${text} What it finds is ` +
    'a look around and not a test, so neither of its sentences is given as an answer.',
  answer: (sentence: string) => `The answer that was written beforehand: ${sentence}`,
  notYet: (seen: number, all: number) =>
    `The group waits for seasons with an interval, ${all} in all; ${seen} so far, so its answer is not given yet.`,
  allCrops: 'every matched crop',
  pair: (method: string, reference: string) => `${method} beside ${reference}`,
  allPairs: 'each other method beside that one',
  elsewhere: (method: string, reference: string) =>
    `The question also asks of ${method} beside ${reference}: it stands where ${reference} is the method that the ` +
    'others are compared with.',
  nextLink: (season: string) => `Ask a new question for ${season}`,
  next: 'Ask a new question for the next season on that season’s page.',
}
