/** Enough of a spreadsheet (Office Open XML, ISO/IEC 29500, in a ZIP archive with nothing compressed) to be read as one. */

export type Cell = string | number | boolean | { readonly date: number } | null;

const xml = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

/**
 * @param sheets rows of cells by the name of the sheet; `date` counts days as spreadsheets do, 1 being 1 January 1900.
 * @param merged ranges of cells that are one, by the name of the sheet
 */
export function xlsxFile(
  sheets: Readonly<Record<string, readonly (readonly Cell[])[]>>,
  merged: Readonly<Record<string, readonly string[]>> = {},
): Buffer {
  const names = Object.keys(sheets);
  const head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const relations = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const packaged = 'http://schemas.openxmlformats.org/package/2006';
  const files: Record<string, string> = {
    '[Content_Types].xml': `${head}<Types xmlns="${packaged}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/></Types>`,
    '_rels/.rels': `${head}<Relationships xmlns="${packaged}/relationships"><Relationship Id="rId1" Type="${relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    'xl/workbook.xml': `${head}<workbook xmlns="${main}" xmlns:r="${relations}"><sheets>${names.map((name, at) => `<sheet name="${xml(name)}" sheetId="${at + 1}" r:id="rId${at + 1}"/>`).join('')}</sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `${head}<Relationships xmlns="${packaged}/relationships">${names.map((_, at) => `<Relationship Id="rId${at + 1}" Type="${relations}/worksheet" Target="worksheets/sheet${at + 1}.xml"/>`).join('')}<Relationship Id="rId${names.length + 1}" Type="${relations}/styles" Target="styles.xml"/></Relationships>`,
    'xl/styles.xml': `${head}<styleSheet xmlns="${main}"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>`,
  };
  for (const [at, [name, rows]] of Object.entries(sheets).entries()) {
    const cells = (merged[name] ?? []).map((range) => `<mergeCell ref="${range}"/>`).join('');
    files[`xl/worksheets/sheet${at + 1}.xml`] =
      `${head}<worksheet xmlns="${main}"><sheetData>${rows.map(rowXml).join('')}</sheetData>${cells === '' ? '' : `<mergeCells>${cells}</mergeCells>`}</worksheet>`;
  }
  return zip(files);
}

const rowXml = (cells: readonly Cell[], row: number): string =>
  `<row r="${row + 1}">${cells.map((cell, column) => cellXml(cell, `${String.fromCharCode(65 + column)}${row + 1}`)).join('')}</row>`;

function cellXml(cell: Cell, place: string): string {
  if (cell === null) return '';
  if (typeof cell === 'string')
    return `<c r="${place}" t="inlineStr"><is><t xml:space="preserve">${xml(cell)}</t></is></c>`;
  if (typeof cell === 'boolean') return `<c r="${place}" t="b"><v>${cell ? 1 : 0}</v></c>`;
  return typeof cell === 'number'
    ? `<c r="${place}"><v>${cell}</v></c>`
    : `<c r="${place}" s="1"><v>${cell.date}</v></c>`;
}

function crc32(bytes: Buffer): number {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}

/** @see APPNOTE 6.3.10, "ZIP File Format Specification": local headers, central directory, end. */
function zip(files: Readonly<Record<string, string>>): Buffer {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const [name, text] of Object.entries(files)) {
    const [path, bytes] = [Buffer.from(name), Buffer.from(text)];
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt32LE(crc32(bytes), 10);
    common.writeUInt32LE(bytes.length, 14);
    common.writeUInt32LE(bytes.length, 18);
    common.writeUInt16LE(path.length, 22);
    const local = Buffer.concat([Buffer.from('PK\u0003\u0004'), common, path, bytes]);
    const entry = Buffer.alloc(46);
    entry.write('PK\u0001\u0002', 'latin1');
    entry.writeUInt16LE(20, 4);
    common.copy(entry, 6);
    entry.writeUInt32LE(offset, 42);
    directory.push(Buffer.concat([entry, path]));
    parts.push(local);
    offset += local.length;
  }
  const central = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\u0005\u0006', 'latin1');
  end.writeUInt16LE(directory.length, 8);
  end.writeUInt16LE(directory.length, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...parts, central, end]);
}
