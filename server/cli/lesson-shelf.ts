/** The lessons that instructors have written: files in the data folder, each checked as it is read. */
import { mkdir, readdir, readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Lesson, readLesson } from '../class/lesson.ts';
import { fileTrouble } from '../file-trouble.ts';
import type { LessonShelf } from '../http/class.ts';

/** @param folder where they are; made when the first one is kept */
export function lessonShelf(folder: string): LessonShelf {
  return {
    async list() {
      const names = await readdir(folder).catch(() => []);
      const lessons: Lesson[] = [];
      const refused: { file: string; why: string }[] = [];
      for (const file of names.filter((name) => name.endsWith('.json')).sort()) {
        const read = await readFile(join(folder, file), 'utf8').then(readLesson, (error) => ({
          refusal: fileTrouble(error),
        }));
        if ('refusal' in read) refused.push({ file, why: read.refusal });
        else lessons.push(read.lesson);
      }
      return { lessons, refused };
    },
    async keep(lesson) {
      // Written aside and renamed, so that a power cut leaves the old one or the new one.
      const path = join(folder, `${lesson.id}.json`);
      try {
        await mkdir(folder, { recursive: true });
        await writeFile(`${path}.new`, `${JSON.stringify(lesson, null, 2)}\n`);
        await rename(`${path}.new`, path);
        return null;
      } catch (error) {
        return `The lesson could not be kept in ${folder}: ${fileTrouble(error)}`;
      }
    },
  };
}
