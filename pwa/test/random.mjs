/** Numbers in [0, 1) that are the same in every run: Park and Miller's minimal standard generator. */
export function randomNumbers(seed) {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
