package main

import (
	"bytes"
	"debug/pe"
	"encoding/binary"
)

// randomLibrary is a library of Windows that Wine 8 lacks and the Go runtime asks for. It
// serves the comparisons under Wine alone and is not part of the program. It holds no code:
// its one function is forwarded to the random numbers of advapi32, as a PE file may do (PE
// Format, "Export Address Table", learn.microsoft.com).
func randomLibrary() []byte {
	const head, page = 0x200, 0x1000 // where the one section begins in the file, and in memory
	const name, function, forwarded = "bcryptprimitives.dll\x00", "ProcessPrng\x00", "advapi32.SystemFunction036\x00"
	const directory = 40
	const table = page + directory // the address of one function, of its name, and its number
	const text = table + 4 + 4 + 2
	var exports bytes.Buffer
	put(&exports, []uint32{0, 0, 0, text, 1, 1, 1, table, table + 4, table + 8})
	put(&exports, []uint32{text + uint32(len(name+function)), text + uint32(len(name))}, uint16(0))
	exports.WriteString(name + function + forwarded)
	size := uint32(exports.Len())

	optional := pe.OptionalHeader64{
		Magic: 0x20b, SizeOfInitializedData: head, ImageBase: 0x180000000, SectionAlignment: page, FileAlignment: head,
		MajorOperatingSystemVersion: 6, MajorSubsystemVersion: 6, SizeOfImage: 2 * page, SizeOfHeaders: head,
		Subsystem: pe.IMAGE_SUBSYSTEM_WINDOWS_CUI, DllCharacteristics: pe.IMAGE_DLLCHARACTERISTICS_NX_COMPAT,
		NumberOfRvaAndSizes: 16,
	}
	optional.DataDirectory[pe.IMAGE_DIRECTORY_ENTRY_EXPORT] = pe.DataDirectory{VirtualAddress: page, Size: size}
	var file bytes.Buffer
	put(&file, [30]uint16{'M' | 'Z'<<8}, uint32(64)) // the old header, and where the new one begins
	file.WriteString("PE\x00\x00")
	put(&file, pe.FileHeader{
		Machine: pe.IMAGE_FILE_MACHINE_AMD64, NumberOfSections: 1, SizeOfOptionalHeader: uint16(binary.Size(optional)),
		Characteristics: pe.IMAGE_FILE_EXECUTABLE_IMAGE | pe.IMAGE_FILE_LARGE_ADDRESS_AWARE | pe.IMAGE_FILE_DLL,
	}, optional, pe.SectionHeader32{
		Name: [8]uint8([]byte(".edata\x00\x00")), VirtualSize: size, VirtualAddress: page, SizeOfRawData: head, PointerToRawData: head,
		Characteristics: pe.IMAGE_SCN_CNT_INITIALIZED_DATA | pe.IMAGE_SCN_MEM_READ,
	})
	whole := make([]byte, 2*head)
	copy(whole, file.Bytes())
	copy(whole[head:], exports.Bytes())
	return whole
}

// put writes values as Windows reads them.
func put(to *bytes.Buffer, values ...any) {
	for _, v := range values {
		_ = binary.Write(to, binary.LittleEndian, v) // a buffer takes all
	}
}
