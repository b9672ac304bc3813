// What the page's own script unpacks, without a page.
import { Unpacker } from '../assets/unpack.js';

// unpacked returns what some bytes unpack to, given in pieces of a size.
export function unpacked(bytes, piece = 65_536) {
  const parts = [];
  const one = new Unpacker((part) => parts.push(part.slice()));
  for (let i = 0; i < bytes.length; i += piece) one.push(new Uint8Array(bytes.subarray(i, i + piece)));
  one.push(null);
  return Buffer.concat(parts);
}
