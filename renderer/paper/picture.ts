/** Pages as pictures: for the preview, and as files of their own. */
import { pageSvg, type PaperFont } from "#engine/paperwork/html.ts";
import type { Page } from "#engine/paperwork/page.ts";

/** Enough for a good printer, and of the largest paper still a picture that every program opens. */
export const PNG_DPI = 300;

/** As an image a page runs nothing and fetches nothing, whatever its texts say. */
export const pictureUrl = (page: Page, fonts: readonly PaperFont[]): string =>
  URL.createObjectURL(new Blob([pageSvg(page, fonts)], { type: "image/svg+xml" }));

export async function pagePng(page: Page, fonts: readonly PaperFont[]): Promise<Uint8Array> {
  const url = pictureUrl(page, fonts);
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = Math.round((page.width / 25.4) * PNG_DPI);
    canvas.height = Math.round((page.height / 25.4) * PNG_DPI);
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!blob) throw new Error("the picture is too large for this machine");
    return new Uint8Array(await blob.arrayBuffer());
  } finally {
    URL.revokeObjectURL(url);
  }
}
