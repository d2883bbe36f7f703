/** One layout of a made-up trial: how often its 95 % interval held the method's effect, and how often it found one. */
export interface LayoutLine {
  readonly layout: 'gardens' | 'split gardens' | 'blocks of beds'
  /** By choice the better half of the gardens, as far as the grower knows it, went to one method. */
  readonly how: 'random' | 'choice'
  /** Gardens a method, split gardens, or blocks. */
  readonly units: number
  readonly seasons: number
  /** The true ratio of the methods is 1 or 1.2. */
  readonly effect: 0 | 1
  readonly trials: number
  /** Share of intervals that held it: here it is the same everywhere, though blocks on one site can tell of that site only. */
  readonly holds: number
  /** Share that left out 1: false findings where the ratio is 1, else power; and what the noncentral t predicts. */
  readonly finds: number
  readonly predicted: number
  /** Mean log ratio found, less the true one. */
  readonly bias: number
}

/**
 * Written by npm run simulate:layouts; eight matched crops; log-scale spreads of gardens 0.20, gardens and seasons 0.12, crops
 * and ground 0.25, the rest 0.25. One value a garden, the mean over seasons of the mean over crops; or one difference a split
 * garden or block; t with degrees of freedom from those. Methods do not suit one garden better than another in these trials.
 */
export const layoutCalibration: readonly LayoutLine[] = (
  [
    ['gardens', 'random', 2, 1, 0, 5000, 0.9554, 0.0446, 0.05, 0.00335],
    ['gardens', 'random', 2, 1, 1, 5000, 0.9488, 0.07, 0.071732, -0.003301],
    ['gardens', 'random', 2, 3, 0, 5000, 0.9548, 0.0452, 0.05, -0.005055],
    ['gardens', 'random', 2, 3, 1, 5000, 0.9492, 0.077, 0.077476, -0.000839],
    ['gardens', 'random', 4, 1, 0, 5000, 0.9524, 0.0476, 0.05, -0.000259],
    ['gardens', 'random', 4, 1, 1, 5000, 0.9512, 0.1256, 0.131197, -0.002638],
    ['gardens', 'random', 4, 3, 0, 5000, 0.949, 0.051, 0.05, 0.00026],
    ['gardens', 'random', 4, 3, 1, 5000, 0.944, 0.1454, 0.153456, -0.002863],
    ['gardens', 'random', 6, 1, 0, 5000, 0.9496, 0.0504, 0.05, -0.001545],
    ['gardens', 'random', 6, 1, 1, 5000, 0.9514, 0.19, 0.190972, 0.001329],
    ['gardens', 'random', 6, 3, 0, 5000, 0.9516, 0.0484, 0.05, -0.001828],
    ['gardens', 'random', 6, 3, 1, 5000, 0.9538, 0.228, 0.229549, 0.001327],
    ['gardens', 'choice', 2, 1, 0, 5000, 0.9272, 0.0728, 0.05, 0.184539],
    ['gardens', 'choice', 2, 1, 1, 5000, 0.9282, 0.1448, 0.071732, 0.190252],
    ['gardens', 'choice', 2, 3, 0, 5000, 0.9176, 0.0824, 0.05, 0.185868],
    ['gardens', 'choice', 2, 3, 1, 5000, 0.9212, 0.1776, 0.077476, 0.187088],
    ['gardens', 'choice', 4, 1, 0, 5000, 0.8416, 0.1584, 0.05, 0.203023],
    ['gardens', 'choice', 4, 1, 1, 5000, 0.8314, 0.4772, 0.131197, 0.203535],
    ['gardens', 'choice', 4, 3, 0, 5000, 0.787, 0.213, 0.05, 0.205583],
    ['gardens', 'choice', 4, 3, 1, 5000, 0.7826, 0.5918, 0.153456, 0.206452],
    ['gardens', 'choice', 6, 1, 0, 5000, 0.7134, 0.2866, 0.05, 0.213266],
    ['gardens', 'choice', 6, 1, 1, 5000, 0.7262, 0.723, 0.190972, 0.210514],
    ['gardens', 'choice', 6, 3, 0, 5000, 0.6582, 0.3418, 0.05, 0.209202],
    ['gardens', 'choice', 6, 3, 1, 5000, 0.6442, 0.8492, 0.229549, 0.211459],
    ['split gardens', 'random', 2, 1, 0, 5000, 0.949, 0.051, 0.05, -0.003372],
    ['split gardens', 'random', 2, 1, 1, 5000, 0.9504, 0.0966, 0.095149, -0.002142],
    ['split gardens', 'random', 2, 3, 0, 5000, 0.9524, 0.0476, 0.05, 0.001119],
    ['split gardens', 'random', 2, 3, 1, 5000, 0.9482, 0.1134, 0.113318, 0.001631],
    ['split gardens', 'random', 4, 1, 0, 5000, 0.95, 0.05, 0.05, 0.002329],
    ['split gardens', 'random', 4, 1, 1, 5000, 0.9552, 0.3014, 0.302954, -0.001987],
    ['split gardens', 'random', 4, 3, 0, 5000, 0.946, 0.054, 0.05, 0.000157],
    ['split gardens', 'random', 4, 3, 1, 5000, 0.9498, 0.4226, 0.414382, 0.000358],
    ['split gardens', 'random', 6, 1, 0, 5000, 0.9488, 0.0512, 0.05, -0.000293],
    ['split gardens', 'random', 6, 1, 1, 5000, 0.9514, 0.5312, 0.530809, 0.000848],
    ['split gardens', 'random', 6, 3, 0, 5000, 0.9526, 0.0474, 0.05, 0.000378],
    ['split gardens', 'random', 6, 3, 1, 5000, 0.9454, 0.705, 0.698017, -0.000303],
    ['blocks of beds', 'random', 2, 1, 0, 5000, 0.9524, 0.0476, 0.05, 0.000076],
    ['blocks of beds', 'random', 2, 1, 1, 5000, 0.947, 0.0936, 0.095149, 0.000442],
    ['blocks of beds', 'random', 2, 3, 0, 5000, 0.9516, 0.0484, 0.05, 0.002337],
    ['blocks of beds', 'random', 2, 3, 1, 5000, 0.9486, 0.1218, 0.113318, 0.000958],
    ['blocks of beds', 'random', 4, 1, 0, 5000, 0.946, 0.054, 0.05, -0.000686],
    ['blocks of beds', 'random', 4, 1, 1, 5000, 0.947, 0.2968, 0.302954, -0.001688],
    ['blocks of beds', 'random', 4, 3, 0, 5000, 0.9526, 0.0474, 0.05, 0.000213],
    ['blocks of beds', 'random', 4, 3, 1, 5000, 0.9506, 0.3978, 0.414382, -0.001369],
    ['blocks of beds', 'random', 6, 1, 0, 5000, 0.9526, 0.0474, 0.05, -0.00037],
    ['blocks of beds', 'random', 6, 1, 1, 5000, 0.9506, 0.554, 0.530809, 0.00289],
    ['blocks of beds', 'random', 6, 3, 0, 5000, 0.9518, 0.0482, 0.05, -0.000186],
    ['blocks of beds', 'random', 6, 3, 1, 5000, 0.9468, 0.7016, 0.698017, -0.000809],
  ] as const
).map(([layout, how, units, seasons, effect, trials, holds, finds, predicted, bias]) => ({
  ...{ layout, how, units, seasons, effect, trials },
  ...{ holds, finds, predicted, bias },
}))
