import { nth } from '../lookups/nth.ts'
import { textIn } from '../lookups/unsaid.ts'
import type { Chance } from '../statistics/chance-from.ts'

export interface DealtPlace {
  readonly id: string
  /**
   * Places of one holder (a garden, a block, a site) are dealt to among themselves; one holder for all is a plain draw.
   */
  readonly holder: string
}

/**
 * Deals methods to places at random within each holder: every method as often as any other in all, and within a holder
 * as far as it goes round (randomised complete blocks after Fisher 1925, Statistical Methods for Research Workers;
 * incomplete ones where a holder is too small). The same seed gives the same deal: places and methods are taken in the
 * order given, and shuffled after Durstenfeld 1964 (Commun ACM 7:420).
 */
export function deal(places: readonly DealtPlace[], methodIds: readonly string[], chance: Chance): Map<string, string> {
  const dealt = new Map<string, string>()
  const deck: string[] = []
  for (const holder of new Set(places.map((place) => place.holder))) {
    const own = places.filter((place) => place.holder === holder)
    const hand: string[] = []
    while (hand.length < own.length) {
      if (deck.length === 0) deck.push(...shuffled(methodIds, chance))
      hand.push(...deck.splice(scarcestIn(deck, hand), 1))
    }
    const cards = shuffled(hand, chance)
    own.forEach((place, i) => {
      dealt.set(place.id, nth(cards, i))
    })
  }
  return dealt
}

/** The place in the deck of the card that the hand holds least often; of several the first. */
function scarcestIn(deck: readonly string[], hand: readonly string[]): number {
  const held = deck.map((card) => hand.filter((one) => one === card).length)
  return held.indexOf(Math.min(...held))
}

/**
 * Each place has the method that follows the one it had, in the order given; a place that had none takes its turn in
 * the row.
 */
export function turn(
  places: readonly DealtPlace[],
  methodIds: readonly string[],
  before: ReadonlyMap<string, string>,
): Map<string, string> {
  return new Map(
    places.map((place, i) => {
      const last = methodIds.indexOf(textIn(before, place.id))
      return [place.id, nth(methodIds, (last < 0 ? i : last + 1) % methodIds.length)]
    }),
  )
}

/**
 * Each holder in as many runs of neighbouring places as there are methods, as alike in number as can be, and the
 * methods drawn over the runs: halves of a garden for two. A holder with fewer places than methods is left as it is.
 */
export function halves(
  places: readonly DealtPlace[],
  methodIds: readonly string[],
  chance: Chance,
): Map<string, string> {
  const dealt = new Map<string, string>()
  for (const holder of new Set(places.map((place) => place.holder))) {
    const own = places.filter((place) => place.holder === holder)
    if (own.length < methodIds.length) continue
    const drawn = shuffled(methodIds, chance)
    own.forEach((place, i) => {
      const methodId = drawn[Math.floor((i * drawn.length) / own.length)]
      if (methodId !== undefined) dealt.set(place.id, methodId)
    })
  }
  return dealt
}

function shuffled<T>(given: readonly T[], chance: Chance): T[] {
  const cards = [...given]
  for (let last = cards.length - 1; last > 0; last--) {
    const drawn = chance.below(last + 1)
    const [a, b] = [cards[last], cards[drawn]]
    if (a === undefined || b === undefined) continue
    cards[last] = b
    cards[drawn] = a
  }
  return cards
}
