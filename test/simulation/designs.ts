import type { Design } from './made-up.ts'

const sizes = [2, 3, 4, 6]

/** The layouts that are simulated, each with three strays of the methods from season to season. */
export const designs: readonly Design[] = [
  { layout: 'one garden a method' as const, how: 'choice' as const, units: 1, seasons: 3 },
  ...sizes.map((units) => ({ layout: 'gardens' as const, how: 'random' as const, units, seasons: 3 })),
  ...sizes.map((units) => ({ layout: 'gardens' as const, how: 'choice' as const, units, seasons: 3 })),
  ...[3, 6].map((units) => ({ layout: 'split gardens' as const, how: 'random' as const, units, seasons: 3 })),
  ...[3, 6].map((units) => ({ layout: 'blocks of beds' as const, how: 'random' as const, units, seasons: 3 })),
  ...[2, 4].map((units) => ({ layout: 'swapped gardens' as const, how: 'random' as const, units, seasons: 4 })),
].flatMap((one) => [0, 0.06, 0.12].map((methodBySeason) => ({ ...one, methodBySeason })))
