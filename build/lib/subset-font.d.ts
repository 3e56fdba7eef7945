/** What is used of `subset-font`, which comes without types. */
declare module "subset-font" {
  export interface SubsetOptions {
    readonly targetFormat?: "sfnt" | "truetype" | "woff2";
    /** Features of the typeface that stay; left out: all. */
    readonly keepFeatures?: readonly string[];
    readonly noHinting?: boolean;
    readonly keepAllGlyphs?: boolean;
  }
  export default function subsetFont(
    font: Buffer,
    text: string | undefined,
    options?: SubsetOptions,
  ): Promise<Buffer>;
}
