/** Canvases have an end, in px either way; larger drawings are painted smaller. */
const MOST = 16_000;
/** Dots for one px, so that a print of it is sharp. */
const SHARP = 2;

/** An SVG text painted as PNG, in base 64. Throws where the browser cannot paint it. */
export async function pngOf(svg: string): Promise<string> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const { naturalWidth: width, naturalHeight: height } = image;
  const scale = Math.min(SHARP, MOST / width, MOST / height);
  const canvas = document.createElement('canvas');
  canvas.width = Math.ceil(width * scale);
  canvas.height = Math.ceil(height * scale);
  canvas.getContext('2d')!.drawImage(image, 0, 0, canvas.width, canvas.height);
  const [kind, data] = canvas.toDataURL('image/png').split(',');
  // What is too large for the browser comes back as nothing at all.
  if (!kind?.startsWith('data:image/png') || !data) throw new Error('the canvas cannot be painted');
  return data;
}
