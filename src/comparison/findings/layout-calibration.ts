/** One layout of made-up trials: how often what the table of all methods prints held the truth that it names. */
export interface LayoutLine {
  readonly layout: 'one garden a method' | 'gardens' | 'split gardens' | 'blocks of beds' | 'swapped gardens'
  /** By choice the half of the gardens that seemed better to the grower went to one method. */
  readonly how: 'random' | 'choice'
  readonly measure: 'weight' | 'work' | 'inputsPerKg'
  /** Gardens a method, split gardens, blocks, or gardens that were swapped every season. */
  readonly units: number
  readonly seasons: number
  /** Standard deviation, log scale, of a season from a method's rule. */
  readonly methodBySeason: number
  readonly trials: number
  /** Share without an interval; the other shares are of those with one. */
  readonly refused: number
  /** Share that held what it names: these plots in the long run, or the methods in these seasons. */
  readonly holds: number
  /** Share told apart though the methods are alike in the long run; and where B gives 1.2 times as much. */
  readonly told: number
  readonly toldOfMore: number
  /** Median of the upper over the lower end. */
  readonly width: number
}

/**
 * Written by npm run simulate:layouts; four matched crops; log-scale spreads of ground 0.20, ground and season 0.12,
 * crops and place 0.25, the rest 0.25; of hours and inputs place 0.10 and the rest 0.15. Methods do not suit one garden
 * better than another in these trials, and the soil carries nothing of a former method.
 */
export const layoutCalibration: readonly LayoutLine[] = (
  [
    ['one garden a method', 'choice', 'weight', 1, 3, 0, 1000, 0, 0.95, 0.225, 0.305, 2.933],
    ['one garden a method', 'choice', 'work', 1, 3, 0, 1000, 0, 0.953, 0.184, 0.228, 3.24],
    ['one garden a method', 'choice', 'inputsPerKg', 1, 3, 0, 1000, 0, 0.945, 0.216, 0.203, 4.624],
    ['one garden a method', 'choice', 'weight', 1, 3, 0.06, 1000, 0, 0.958, 0.192, 0.291, 3.033],
    ['one garden a method', 'choice', 'work', 1, 3, 0.06, 1000, 0, 0.948, 0.198, 0.215, 3.267],
    ['one garden a method', 'choice', 'inputsPerKg', 1, 3, 0.06, 1000, 0, 0.937, 0.2, 0.182, 5.361],
    ['one garden a method', 'choice', 'weight', 1, 3, 0.12, 1000, 0, 0.95, 0.193, 0.269, 3.435],
    ['one garden a method', 'choice', 'work', 1, 3, 0.12, 1000, 0, 0.963, 0.144, 0.176, 3.744],
    ['one garden a method', 'choice', 'inputsPerKg', 1, 3, 0.12, 1000, 0, 0.946, 0.165, 0.163, 6.073],
    ['gardens', 'random', 'weight', 2, 3, 0, 1000, 0, 0.956, 0.044, 0.064, 7.212],
    ['gardens', 'random', 'work', 2, 3, 0, 1000, 0, 0.953, 0.047, 0.07, 5.971],
    ['gardens', 'random', 'inputsPerKg', 2, 3, 0, 1000, 0, 0.948, 0.052, 0.054, 13.821],
    ['gardens', 'random', 'weight', 2, 3, 0.06, 1000, 0, 0.961, 0.039, 0.078, 6.464],
    ['gardens', 'random', 'work', 2, 3, 0.06, 1000, 0, 0.948, 0.057, 0.078, 5.961],
    ['gardens', 'random', 'inputsPerKg', 2, 3, 0.06, 1000, 0, 0.956, 0.048, 0.062, 13.615],
    ['gardens', 'random', 'weight', 2, 3, 0.12, 1000, 0, 0.948, 0.065, 0.083, 6.294],
    ['gardens', 'random', 'work', 2, 3, 0.12, 1000, 0, 0.949, 0.055, 0.069, 5.962],
    ['gardens', 'random', 'inputsPerKg', 2, 3, 0.12, 1000, 0, 0.961, 0.047, 0.053, 13.087],
    ['gardens', 'random', 'weight', 3, 3, 0, 1000, 0, 0.957, 0.043, 0.114, 2.967],
    ['gardens', 'random', 'work', 3, 3, 0, 1000, 0, 0.941, 0.059, 0.117, 2.811],
    ['gardens', 'random', 'inputsPerKg', 3, 3, 0, 1000, 0, 0.953, 0.047, 0.08, 4.422],
    ['gardens', 'random', 'weight', 3, 3, 0.06, 1000, 0, 0.944, 0.057, 0.1, 3.003],
    ['gardens', 'random', 'work', 3, 3, 0.06, 1000, 0, 0.945, 0.055, 0.101, 2.837],
    ['gardens', 'random', 'inputsPerKg', 3, 3, 0.06, 1000, 0, 0.948, 0.048, 0.077, 4.378],
    ['gardens', 'random', 'weight', 3, 3, 0.12, 1000, 0, 0.946, 0.068, 0.118, 2.896],
    ['gardens', 'random', 'work', 3, 3, 0.12, 1000, 0, 0.953, 0.063, 0.123, 2.865],
    ['gardens', 'random', 'inputsPerKg', 3, 3, 0.12, 1000, 0, 0.957, 0.057, 0.093, 4.43],
    ['gardens', 'random', 'weight', 4, 3, 0, 1000, 0, 0.939, 0.061, 0.15, 2.329],
    ['gardens', 'random', 'work', 4, 3, 0, 1000, 0, 0.961, 0.039, 0.132, 2.267],
    ['gardens', 'random', 'inputsPerKg', 4, 3, 0, 1000, 0, 0.949, 0.051, 0.086, 3.233],
    ['gardens', 'random', 'weight', 4, 3, 0.06, 1000, 0, 0.955, 0.058, 0.141, 2.386],
    ['gardens', 'random', 'work', 4, 3, 0.06, 1000, 0, 0.954, 0.058, 0.145, 2.248],
    ['gardens', 'random', 'inputsPerKg', 4, 3, 0.06, 1000, 0, 0.946, 0.05, 0.104, 3.299],
    ['gardens', 'random', 'weight', 4, 3, 0.12, 1000, 0, 0.947, 0.067, 0.164, 2.322],
    ['gardens', 'random', 'work', 4, 3, 0.12, 1000, 0, 0.945, 0.081, 0.169, 2.248],
    ['gardens', 'random', 'inputsPerKg', 4, 3, 0.12, 1000, 0, 0.938, 0.074, 0.135, 3.167],
    ['gardens', 'random', 'weight', 6, 3, 0, 1000, 0, 0.963, 0.037, 0.18, 1.917],
    ['gardens', 'random', 'work', 6, 3, 0, 1000, 0, 0.957, 0.043, 0.195, 1.873],
    ['gardens', 'random', 'inputsPerKg', 6, 3, 0, 1000, 0, 0.964, 0.036, 0.116, 2.456],
    ['gardens', 'random', 'weight', 6, 3, 0.06, 1000, 0, 0.959, 0.056, 0.197, 1.929],
    ['gardens', 'random', 'work', 6, 3, 0.06, 1000, 0, 0.951, 0.061, 0.206, 1.862],
    ['gardens', 'random', 'inputsPerKg', 6, 3, 0.06, 1000, 0, 0.956, 0.051, 0.132, 2.463],
    ['gardens', 'random', 'weight', 6, 3, 0.12, 1000, 0, 0.953, 0.08, 0.197, 1.927],
    ['gardens', 'random', 'work', 6, 3, 0.12, 1000, 0, 0.953, 0.099, 0.225, 1.872],
    ['gardens', 'random', 'inputsPerKg', 6, 3, 0.12, 1000, 0, 0.947, 0.089, 0.177, 2.464],
    ['gardens', 'choice', 'weight', 2, 3, 0, 1000, 0, 0.929, 0.071, 0.157, 5.506],
    ['gardens', 'choice', 'work', 2, 3, 0, 1000, 0, 0.952, 0.048, 0.082, 6.063],
    ['gardens', 'choice', 'inputsPerKg', 2, 3, 0, 1000, 0, 0.932, 0.068, 0.055, 11.846],
    ['gardens', 'choice', 'weight', 2, 3, 0.06, 1000, 0, 0.925, 0.083, 0.157, 5.353],
    ['gardens', 'choice', 'work', 2, 3, 0.06, 1000, 0, 0.946, 0.055, 0.075, 6.043],
    ['gardens', 'choice', 'inputsPerKg', 2, 3, 0.06, 1000, 0, 0.93, 0.074, 0.056, 10.821],
    ['gardens', 'choice', 'weight', 2, 3, 0.12, 1000, 0, 0.927, 0.076, 0.142, 5.797],
    ['gardens', 'choice', 'work', 2, 3, 0.12, 1000, 0, 0.953, 0.051, 0.083, 5.802],
    ['gardens', 'choice', 'inputsPerKg', 2, 3, 0.12, 1000, 0, 0.947, 0.066, 0.048, 12.609],
    ['gardens', 'choice', 'weight', 3, 3, 0, 1000, 0, 0.862, 0.138, 0.298, 2.701],
    ['gardens', 'choice', 'work', 3, 3, 0, 1000, 0, 0.953, 0.047, 0.09, 2.843],
    ['gardens', 'choice', 'inputsPerKg', 3, 3, 0, 1000, 0, 0.913, 0.087, 0.039, 4.365],
    ['gardens', 'choice', 'weight', 3, 3, 0.06, 1000, 0, 0.886, 0.127, 0.327, 2.676],
    ['gardens', 'choice', 'work', 3, 3, 0.06, 1000, 0, 0.946, 0.06, 0.112, 2.796],
    ['gardens', 'choice', 'inputsPerKg', 3, 3, 0.06, 1000, 0, 0.921, 0.081, 0.046, 4.252],
    ['gardens', 'choice', 'weight', 3, 3, 0.12, 1000, 0, 0.879, 0.143, 0.33, 2.731],
    ['gardens', 'choice', 'work', 3, 3, 0.12, 1000, 0, 0.955, 0.061, 0.131, 2.839],
    ['gardens', 'choice', 'inputsPerKg', 3, 3, 0.12, 1000, 0, 0.923, 0.096, 0.061, 4.367],
    ['gardens', 'choice', 'weight', 4, 3, 0, 1000, 0, 0.813, 0.187, 0.509, 2.151],
    ['gardens', 'choice', 'work', 4, 3, 0, 1000, 0, 0.952, 0.048, 0.137, 2.27],
    ['gardens', 'choice', 'inputsPerKg', 4, 3, 0, 1000, 0, 0.891, 0.109, 0.041, 3.071],
    ['gardens', 'choice', 'weight', 4, 3, 0.06, 1000, 0, 0.819, 0.186, 0.505, 2.179],
    ['gardens', 'choice', 'work', 4, 3, 0.06, 1000, 0, 0.947, 0.053, 0.124, 2.244],
    ['gardens', 'choice', 'inputsPerKg', 4, 3, 0.06, 1000, 0, 0.899, 0.116, 0.058, 3.025],
    ['gardens', 'choice', 'weight', 4, 3, 0.12, 1000, 0, 0.821, 0.211, 0.479, 2.155],
    ['gardens', 'choice', 'work', 4, 3, 0.12, 1000, 0, 0.946, 0.073, 0.179, 2.251],
    ['gardens', 'choice', 'inputsPerKg', 4, 3, 0.12, 1000, 0, 0.891, 0.146, 0.092, 3.065],
    ['gardens', 'choice', 'weight', 6, 3, 0, 1000, 0, 0.714, 0.286, 0.759, 1.806],
    ['gardens', 'choice', 'work', 6, 3, 0, 1000, 0, 0.945, 0.055, 0.202, 1.864],
    ['gardens', 'choice', 'inputsPerKg', 6, 3, 0, 1000, 0, 0.835, 0.165, 0.049, 2.379],
    ['gardens', 'choice', 'weight', 6, 3, 0.06, 1000, 0, 0.723, 0.283, 0.744, 1.795],
    ['gardens', 'choice', 'work', 6, 3, 0.06, 1000, 0, 0.951, 0.064, 0.221, 1.85],
    ['gardens', 'choice', 'inputsPerKg', 6, 3, 0.06, 1000, 0, 0.834, 0.165, 0.065, 2.329],
    ['gardens', 'choice', 'weight', 6, 3, 0.12, 1000, 0, 0.708, 0.334, 0.704, 1.788],
    ['gardens', 'choice', 'work', 6, 3, 0.12, 1000, 0, 0.956, 0.092, 0.263, 1.838],
    ['gardens', 'choice', 'inputsPerKg', 6, 3, 0.12, 1000, 0, 0.843, 0.21, 0.118, 2.352],
    ['split gardens', 'random', 'weight', 3, 3, 0, 1000, 0, 0.949, 0.051, 0.139, 2.435],
    ['split gardens', 'random', 'work', 3, 3, 0, 1000, 0, 0.938, 0.062, 0.175, 2.217],
    ['split gardens', 'random', 'inputsPerKg', 3, 3, 0, 1000, 0, 0.959, 0.041, 0.115, 3.224],
    ['split gardens', 'random', 'weight', 3, 3, 0.06, 1000, 0, 0.962, 0.038, 0.138, 2.478],
    ['split gardens', 'random', 'work', 3, 3, 0.06, 1000, 0, 0.959, 0.044, 0.194, 2.139],
    ['split gardens', 'random', 'inputsPerKg', 3, 3, 0.06, 1000, 0, 0.965, 0.046, 0.104, 3.273],
    ['split gardens', 'random', 'weight', 3, 3, 0.12, 1000, 0, 0.955, 0.069, 0.145, 2.575],
    ['split gardens', 'random', 'work', 3, 3, 0.12, 1000, 0, 0.948, 0.103, 0.204, 2.15],
    ['split gardens', 'random', 'inputsPerKg', 3, 3, 0.12, 1000, 0, 0.952, 0.083, 0.115, 3.25],
    ['split gardens', 'random', 'weight', 6, 3, 0, 1000, 0, 0.95, 0.05, 0.376, 1.516],
    ['split gardens', 'random', 'work', 6, 3, 0, 1000, 0, 0.947, 0.053, 0.481, 1.44],
    ['split gardens', 'random', 'inputsPerKg', 6, 3, 0, 1000, 0, 0.947, 0.053, 0.239, 1.768],
    ['split gardens', 'random', 'weight', 6, 3, 0.06, 1000, 0, 0.958, 0.06, 0.405, 1.531],
    ['split gardens', 'random', 'work', 6, 3, 0.06, 1000, 0, 0.943, 0.095, 0.478, 1.445],
    ['split gardens', 'random', 'inputsPerKg', 6, 3, 0.06, 1000, 0, 0.952, 0.071, 0.245, 1.779],
    ['split gardens', 'random', 'weight', 6, 3, 0.12, 1000, 0, 0.958, 0.142, 0.422, 1.543],
    ['split gardens', 'random', 'work', 6, 3, 0.12, 1000, 0, 0.943, 0.193, 0.479, 1.44],
    ['split gardens', 'random', 'inputsPerKg', 6, 3, 0.12, 1000, 0, 0.959, 0.158, 0.301, 1.749],
    ['blocks of beds', 'random', 'weight', 3, 3, 0, 1000, 0, 0.954, 0.046, 0.143, 2.399],
    ['blocks of beds', 'random', 'work', 3, 3, 0, 1000, 0, 0.958, 0.042, 0.153, 2.195],
    ['blocks of beds', 'random', 'inputsPerKg', 3, 3, 0, 1000, 0, 0.943, 0.057, 0.106, 3.169],
    ['blocks of beds', 'random', 'weight', 3, 3, 0.06, 1000, 0, 0.958, 0.051, 0.159, 2.386],
    ['blocks of beds', 'random', 'work', 3, 3, 0.06, 1000, 0, 0.951, 0.068, 0.195, 2.165],
    ['blocks of beds', 'random', 'inputsPerKg', 3, 3, 0.06, 1000, 0, 0.965, 0.055, 0.108, 3.289],
    ['blocks of beds', 'random', 'weight', 3, 3, 0.12, 1000, 0, 0.971, 0.07, 0.162, 2.437],
    ['blocks of beds', 'random', 'work', 3, 3, 0.12, 1000, 0, 0.948, 0.096, 0.202, 2.163],
    ['blocks of beds', 'random', 'inputsPerKg', 3, 3, 0.12, 1000, 0, 0.948, 0.086, 0.141, 3.26],
    ['blocks of beds', 'random', 'weight', 6, 3, 0, 1000, 0, 0.946, 0.054, 0.379, 1.532],
    ['blocks of beds', 'random', 'work', 6, 3, 0, 1000, 0, 0.967, 0.033, 0.471, 1.453],
    ['blocks of beds', 'random', 'inputsPerKg', 6, 3, 0, 1000, 0, 0.951, 0.049, 0.25, 1.764],
    ['blocks of beds', 'random', 'weight', 6, 3, 0.06, 1000, 0, 0.955, 0.058, 0.403, 1.537],
    ['blocks of beds', 'random', 'work', 6, 3, 0.06, 1000, 0, 0.955, 0.074, 0.485, 1.432],
    ['blocks of beds', 'random', 'inputsPerKg', 6, 3, 0.06, 1000, 0, 0.935, 0.085, 0.254, 1.761],
    ['blocks of beds', 'random', 'weight', 6, 3, 0.12, 1000, 0, 0.951, 0.149, 0.44, 1.52],
    ['blocks of beds', 'random', 'work', 6, 3, 0.12, 1000, 0, 0.946, 0.165, 0.489, 1.455],
    ['blocks of beds', 'random', 'inputsPerKg', 6, 3, 0.12, 1000, 0, 0.925, 0.179, 0.322, 1.738],
    ['swapped gardens', 'random', 'weight', 2, 4, 0, 1000, 0, 0.952, 0.048, 0.133, 2.497],
    ['swapped gardens', 'random', 'work', 2, 4, 0, 1000, 0, 0.946, 0.054, 0.122, 2.704],
    ['swapped gardens', 'random', 'inputsPerKg', 2, 4, 0, 1000, 0, 0.954, 0.046, 0.087, 3.939],
    ['swapped gardens', 'random', 'weight', 2, 4, 0.06, 1000, 0, 0.959, 0.045, 0.123, 2.678],
    ['swapped gardens', 'random', 'work', 2, 4, 0.06, 1000, 0, 0.942, 0.052, 0.124, 2.655],
    ['swapped gardens', 'random', 'inputsPerKg', 2, 4, 0.06, 1000, 0, 0.959, 0.045, 0.088, 4.111],
    ['swapped gardens', 'random', 'weight', 2, 4, 0.12, 1000, 0, 0.975, 0.034, 0.102, 3.029],
    ['swapped gardens', 'random', 'work', 2, 4, 0.12, 1000, 0, 0.956, 0.059, 0.114, 3.212],
    ['swapped gardens', 'random', 'inputsPerKg', 2, 4, 0.12, 1000, 0, 0.968, 0.047, 0.073, 5.085],
    ['swapped gardens', 'random', 'weight', 4, 4, 0, 1000, 0, 0.952, 0.048, 0.447, 1.486],
    ['swapped gardens', 'random', 'work', 4, 4, 0, 1000, 0, 0.952, 0.048, 0.383, 1.522],
    ['swapped gardens', 'random', 'inputsPerKg', 4, 4, 0, 1000, 0, 0.958, 0.042, 0.239, 1.785],
    ['swapped gardens', 'random', 'weight', 4, 4, 0.06, 1000, 0, 0.964, 0.053, 0.392, 1.512],
    ['swapped gardens', 'random', 'work', 4, 4, 0.06, 1000, 0, 0.952, 0.069, 0.365, 1.545],
    ['swapped gardens', 'random', 'inputsPerKg', 4, 4, 0.06, 1000, 0, 0.951, 0.049, 0.231, 1.809],
    ['swapped gardens', 'random', 'weight', 4, 4, 0.12, 1000, 0, 0.966, 0.106, 0.396, 1.548],
    ['swapped gardens', 'random', 'work', 4, 4, 0.12, 1000, 0, 0.957, 0.108, 0.347, 1.59],
    ['swapped gardens', 'random', 'inputsPerKg', 4, 4, 0.12, 1000, 0, 0.968, 0.111, 0.22, 1.903],
  ] as const
).map(([layout, how, measure, units, seasons, methodBySeason, trials, refused, ...shares]) => {
  const [holds, told, toldOfMore, width] = shares
  return {
    ...{ layout, how, measure, units, seasons, methodBySeason, trials, refused },
    ...{ holds, told, toldOfMore, width },
  }
})
