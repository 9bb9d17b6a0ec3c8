/** What is known of the fewest without any search. */

/**
 * How many guards always suffice for a polygon, with unlimited range and walls of full height.
 *
 * Without holes a third of the corners (Chvátal, Fisk), a quarter when every wall runs along one of two directions (Kahn,
 * Klawe, Kleitman); with h holes (n + h) / 3 (Hoffmann, Kaufmann, Kriegel; Bjorling-Sachs, Souvaine: from memory), and a
 * quarter of all corners for the others (Hoffmann). Rounded down, but one at least.
 *
 * @param corners of the outline and of all holes
 */
export function guardsThatSuffice(corners: number, holes: number, isOrthogonal: boolean): number {
  const most = isOrthogonal ? corners / 4 : (corners + holes) / 3;
  return Math.max(1, Math.floor(most + 1e-9));
}

/** How many detectors an area needs at least, each seeing no more than so much of it. */
export function detectorsByArea(areaM2: number, eachM2: number): number {
  return areaM2 <= 0 ? 0 : Math.ceil(areaM2 / eachM2 - 1e-9);
}

/** The sum 1 + 1/2 + … + 1/n: a greedy cover of sets of at most n elements costs at most so many times the best. */
export function harmonicNumber(n: number): number {
  let sum = 0;
  for (let i = n; i >= 1; i--) sum += 1 / i;
  return sum;
}
