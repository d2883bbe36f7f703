export const home = {
  title: 'Home',
  pathTitle: 'From here to the first week',
  pathSay:
    'One step after another; leave it when you like, it waits here. An estimate will do at first: every figure can be corrected later.',
  next: 'Next',
  done: 'done',
  notYet: 'not yet',
  steps: {
    site: {
      name: 'The ground: a site',
      why: 'Gardens on one soil and exposure can be compared more fairly than gardens apart.',
    },
    methods: {
      name: 'Two methods with their working rules',
      why: 'Without written rules nobody can tell in three years what was compared.',
    },
    rules: {
      name: 'The working rules of both methods',
      why: 'A method stands here without its rules; without them nobody can tell in three years what was compared.',
    },
    gardens: {
      name: 'Two gardens with their gross area',
      why: 'A comparison needs two; every figure is per square metre.',
    },
    beds: { name: 'Beds in each garden', why: 'Yield is counted on the ground that is cropped, empty beds included.' },
    season: { name: 'A season', why: 'Hours, weights and costs count toward one.' },
    assignments: {
      name: 'Which method lies on which garden',
      why: 'Decided before sowing, and by what: that limits what can be concluded.',
    },
    plantings: { name: 'A first planting', why: 'Weights are taken from plantings.' },
    matched: {
      name: 'One cultivar in every garden',
      why: 'Only the same cultivar, sown at the same time, is compared like with like.',
    },
    question: {
      name: 'The question of the season',
      why: 'What is fixed before the result is a test; what is found afterwards is a look around.',
    },
    people: {
      name: 'Someone else who writes things down',
      why: 'Two people who weigh the same crate show how well it is weighed.',
    },
  },
  canWait: 'This can wait: the first weeks can be written down without it.',
  whole: 'Everything that a comparison needs is in place.',
  openWeeks: 'Weeks that are over and not closed',
  openSay: 'Until a week is closed, what is not written down is unknown.',
  toWeek: 'Write down this week',
  seeWeek: 'See this week',
  toCompare: 'See the comparison',
  overSeasons: 'What the gardens have shown over all their seasons',
}
