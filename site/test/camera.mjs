// What a camera reads off the screen: a QR code on a picture, read by zbarimg, which has nothing of this project.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

// readOff reads a code off a picture.
export function readOff(png) {
  const folder = mkdtempSync(join(tmpdir(), 'code-'));
  try {
    const file = join(folder, 'code.png');
    writeFileSync(file, png);
    return execFileSync('zbarimg', ['--quiet', '--raw', file], { encoding: 'utf8' }).trim();
  } finally {
    rmSync(folder, { recursive: true });
  }
}
