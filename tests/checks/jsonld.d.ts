/** As much of the package's interface as the checks use: it ships no types of its own. */
declare module 'jsonld' {
  type Json = Readonly<Record<string, unknown>>;
  export type Loader = (url: string) => Promise<{ contextUrl: null; documentUrl: string; document: unknown }>;
  const jsonld: {
    expand(document: Json, options: { documentLoader: Loader; safe: boolean }): Promise<Json[]>;
    compact(document: readonly Json[], context: string, options: { documentLoader: Loader }): Promise<Json>;
  };
  // biome-ignore lint/style/noDefaultExport: it is how the package exports
  export default jsonld;
}
