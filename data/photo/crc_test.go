package photo

import "hash/crc32"

// crc is the check sum of a PNG chunk.
func crc(chunk []byte) uint32 { return crc32.ChecksumIEEE(chunk) }
