/** How firm a window is, in words. */
export function forceInWords(force: string, weight: string): string {
  if (force === 'hard') return 'hard';
  if (force === 'hard-start') return `nothing earlier; its end is usual, ${weight}`;
  if (force === 'hard-end') return `nothing later; its beginning is usual, ${weight}`;
  return `usual, ${weight}`;
}
