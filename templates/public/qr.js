/* A QR symbol of a text: bytes at level M in the smallest version that holds them, by ISO/IEC 18004.
   What comes back are rows of modules, 1 for dark; the quiet zone is left to whoever draws it. */
(function () {
  "use strict";
  // Table 9 of the standard, level M: codewords of correction in each block, and how many blocks.
  const CORRECTION = [10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26]
    .concat([26], new Array(19).fill(28));
  const BLOCKS = [
    1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16,
    17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49
  ];
  const MASKS = [
    (y, x) => (y + x) % 2, (y) => y % 2, (y, x) => x % 3, (y, x) => (y + x) % 3,
    (y, x) => (Math.floor(y / 2) + Math.floor(x / 3)) % 2, (y, x) => (y * x) % 2 + (y * x) % 3,
    (y, x) => ((y * x) % 2 + (y * x) % 3) % 2, (y, x) => ((y + x) % 2 + (y * x) % 3) % 2
  ];
  const range = (count) => Array.from({ length: count }, (each, at) => at);
  const bits = (value, count) => range(count).map((at) => (value >> (count - 1 - at)) & 1);

  // How many codewords a version holds, data and correction, in whole bytes.
  function capacity(version) {
    const lines = version < 2 ? 0 : Math.floor(version / 7) + 2;
    const taken = lines ? (25 * lines - 10) * lines - 55 : 0;
    const modules = (16 * version + 128) * version + 64 - taken - (version < 7 ? 0 : 36);
    return Math.floor(modules / 8);
  }

  // Multiplication in the field of 256 elements whose polynomial is 285.
  function times(a, b) {
    return bits(b, 8).reduce(
      (product, bit) => (product << 1) ^ ((product >> 7) * 285) ^ (bit * a), 0
    );
  }

  // The product of (x - 2^n) for as many n, without its first coefficient, which is 1.
  function generator(degree) {
    let root = 1;
    const found = new Array(degree - 1).fill(0).concat(1);
    range(degree).forEach(() => {
      range(degree).forEach((at) => {
        found[at] = times(found[at], root) ^ (at + 1 < degree ? found[at + 1] : 0);
      });
      root = times(root, 2);
    });
    return found;
  }

  // What is left of a block when it is divided by the generator.
  function correction(data, divisor) {
    const rest = divisor.map(() => 0);
    data.forEach((byte) => {
      const factor = byte ^ rest.shift();
      rest.push(0);
      divisor.forEach((each, at) => { rest[at] ^= times(each, factor); });
    });
    return rest;
  }

  function versionFor(bytes) {
    return range(40).map((at) => at + 1).find((version) => {
      const room = capacity(version) - CORRECTION[version - 1] * BLOCKS[version - 1];
      return 4 + (version < 10 ? 8 : 16) + 8 * bytes.length <= 8 * room;
    });
  }

  // Data in blocks, each with its correction, taken by turns from all of them.
  function codewords(bytes, version) {
    const blocks = BLOCKS[version - 1];
    const extra = CORRECTION[version - 1];
    const room = capacity(version) - extra * blocks;
    const said = [].concat(
      bits(4, 4), bits(bytes.length, version < 10 ? 8 : 16), ...bytes.map((byte) => bits(byte, 8))
    );
    const data = range(Math.min(room, Math.ceil((said.length + 4) / 8))).map((at) => range(8).reduce(
      (value, bit) => value * 2 + (said[at * 8 + bit] || 0), 0
    ));
    for (let pad = 236; data.length < room; pad = pad === 236 ? 17 : 236) { data.push(pad); }
    const divisor = generator(extra);
    const parts = range(blocks).map((block) => data.splice(
      0, Math.floor(room / blocks) + (block < blocks - room % blocks ? 0 : 1)
    ));
    const checks = parts.map((part) => correction(part, divisor));
    const woven = (lists) => [].concat(...range(Math.max(...lists.map((list) => list.length)))
      .map((place) => lists.filter((list) => place < list.length).map((list) => list[place])));
    return woven(parts).concat(woven(checks));
  }

  function aligned(version) {
    const count = Math.floor(version / 7) + 2;
    const step = version === 32 ? 26 : Math.ceil((4 * version + 4) / (2 * count - 2)) * 2;
    const places = range(count - 1).map((at) => 4 * version + 10 - (count - 2 - at) * step);
    return version < 2 ? [] : [6].concat(places);
  }

  // What the symbol says of itself, twice: level and mask, and of the larger ones the version. With
  // nothing to say all of it is light, as it is while masks are weighed.
  function labelled(rows, format, version) {
    const size = rows.length;
    bits(format, 15).reverse().forEach((bit, at) => {
      rows[at < 6 ? at : at < 8 ? at + 1 : size - 15 + at][8] = bit;
      rows[8][at < 8 ? size - 1 - at : at < 9 ? 7 : 14 - at] = bit;
    });
    rows[size - 8][8] = format ? 1 : 0;
    bits(version, size < 45 ? 0 : 18).reverse().forEach((bit, at) => {
      const far = size - 11 + at % 3;
      rows[Math.floor(at / 3)][far] = rows[far][Math.floor(at / 3)] = bit;
    });
    return rows;
  }

  // The patterns that are alike in all symbols of a version; what is undefined is left for data.
  function frame(version) {
    const size = 17 + 4 * version;
    const rows = range(size).map(() => new Array(size).fill(undefined));
    const square = (y, x, reach, dark) => range(2 * reach + 1).forEach((down) => {
      range(2 * reach + 1).forEach((along) => {
        const row = rows[y - reach + down];
        if (row && x - reach + along >= 0 && x - reach + along < size) {
          row[x - reach + along] = dark(Math.max(Math.abs(down - reach), Math.abs(along - reach)));
        }
      });
    });
    range(size).forEach((at) => { rows[6][at] = rows[at][6] = 1 - at % 2; });
    [[3, 3], [3, size - 4], [size - 4, 3]].forEach((place) => {
      square(place[0], place[1], 4, (far) => (far === 2 || far === 4 ? 0 : 1));
    });
    const places = aligned(version);
    places.forEach((y, down) => places.forEach((x, along) => {
      const corners = [down, along].filter((at) => at === 0 || at === places.length - 1).length;
      if (corners < 2 || (down && along)) { square(y, x, 2, (far) => (far === 1 ? 0 : 1)); }
    }));
    return labelled(rows, 0, 0);
  }

  // Data run up and down in pairs of columns from the lower right corner, each bit under the mask.
  function filled(empty, data, mask) {
    const rows = empty.map((row) => row.slice());
    let at = 0;
    for (let right = rows.length - 1; right > 0; right -= right === 8 ? 3 : 2) {
      rows.forEach((row, step) => [right, right - 1].forEach((x) => {
        const y = (right + 1) & 2 ? step : rows.length - 1 - step;
        if (empty[y][x] === undefined) {
          rows[y][x] = (data[at] || 0) ^ (MASKS[mask](y, x) === 0 ? 1 : 0);
          at += 1;
        }
      }));
    }
    return rows;
  }

  // Patterns like a finder's with four light modules on a side, those outside the symbol included.
  function finders(line) {
    let found = 0;
    for (let at = line.indexOf("1011101"); at >= 0;) {
      const beside = ["0000" + line, (line + "0000").slice(7)];
      const alone = beside.some((each) => each.slice(at, at + 4) === "0000");
      found += alone ? 40 : 0;
      at = line.indexOf("1011101", at + (alone ? 7 : 4));
    }
    return found;
  }

  // Table 11: what tells against a mask.
  function penalty(rows) {
    const lines = rows.map((row) => row.join(""))
      .concat(rows.map((each, x) => rows.map((row) => row[x]).join("")));
    const runs = [].concat(...lines.map((line) => line.match(/0{5,}|1{5,}/g) || []));
    let sum = runs.reduce((all, run) => all + run.length - 2, 0)
      + lines.reduce((all, line) => all + finders(line), 0);
    let dark = 0;
    rows.forEach((row, y) => row.forEach((module, x) => {
      dark += module;
      const four = y && x ? module + row[x - 1] + rows[y - 1][x] + rows[y - 1][x - 1] : 2;
      sum += four % 4 ? 0 : 3;
    }));
    return sum + 10 * Math.floor(Math.abs(dark * 100 / rows.length ** 2 - 50) / 5);
  }

  // A number followed by what is left of it when it is divided by a polynomial of its kind.
  function coded(value, count, polynomial) {
    let rest = value;
    range(count).forEach(() => { rest = (rest << 1) ^ ((rest >> (count - 1)) * polynomial); });
    return (value << count) | rest;
  }

  // Null where the text is too long for any version.
  window.qr = function (text) {
    const bytes = Array.from(new TextEncoder().encode(text));
    const version = versionFor(bytes);
    if (!version) { return null; }
    const data = [].concat(...codewords(bytes, version).map((byte) => bits(byte, 8)));
    const empty = frame(version);
    const masked = MASKS.map((each, mask) => filled(empty, data, mask));
    const worth = masked.map(penalty);
    const best = worth.indexOf(Math.min(...worth));
    return labelled(masked[best], coded(best, 10, 1335) ^ 21522, coded(version, 12, 7973));
  };
}());
