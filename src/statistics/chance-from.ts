/**
 * A seeded source of chance: SplitMix64 (Steele, Lea & Flood 2014, OOPSLA, doi 10.1145/2660193.2660195), so that the
 * same seed gives the same numbers on every machine.
 */
export interface Chance {
  /** Uniform on [0, 1). */
  uniform(): number
  /** Standard normal, by Box and Muller 1958 (Annals of Mathematical Statistics 29:610). */
  normal(): number
  /** A whole number from 0 up to, and without, `below`. */
  below(below: number): number
}

const mask = (1n << 64n) - 1n

export function chanceFrom(seed: number): Chance {
  let state = BigInt(seed) & mask
  const next = () => {
    state = (state + 0x9e3779b97f4a7c15n) & mask
    let z = state
    z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & mask
    z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & mask
    return z ^ (z >> 31n)
  }
  const uniform = () => Number(next() >> 11n) / 2 ** 53
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    below: (below) => Math.floor(uniform() * below),
  }
}
