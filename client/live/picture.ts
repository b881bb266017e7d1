/** A picture made small before it is sent: a phone's own has twelve million pixels, and knows where it was taken. */
import { PHOTOS } from '../words/capture-list.ts';

/** Its longer side, then; the server makes it smaller still. */
const LONGEST = 1600;
const QUALITY = 0.85;

/** @returns a JPEG, upright, of pixels only; or why there is none, as a sentence */
export async function smallPicture(file: Blob): Promise<Blob | string> {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
    const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext('2d');
    if (pen === null) return PHOTOS.unreadable;
    pen.fillStyle = '#fff'; // beneath what is see-through
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    const made = await new Promise<Blob | null>((resolve) =>
      canvas.toBlob(resolve, 'image/jpeg', QUALITY),
    );
    return made ?? PHOTOS.unreadable;
  } catch {
    return PHOTOS.unreadable;
  }
}
