package tiff

// Tags of TIFF 6.0 and its supplements that are read here.
const (
	tagNewSubfileType   = 254
	tagSubfileType      = 255
	tagImageWidth       = 256
	tagImageLength      = 257
	tagBitsPerSample    = 258
	tagCompression      = 259
	tagPhotometric      = 262
	tagFillOrder        = 266
	tagStripOffsets     = 273
	tagOrientation      = 274
	tagSamplesPerPixel  = 277
	tagRowsPerStrip     = 278
	tagStripByteCounts  = 279
	tagXResolution      = 282
	tagYResolution      = 283
	tagPlanarConfig     = 284
	tagT4Options        = 292
	tagT6Options        = 293
	tagResolutionUnit   = 296
	tagPredictor        = 317
	tagColorMap         = 320
	tagTileWidth        = 322
	tagTileLength       = 323
	tagTileOffsets      = 324
	tagTileByteCounts   = 325
	tagSubIFDs          = 330
	tagInkSet           = 332
	tagExtraSamples     = 338
	tagSampleFormat     = 339
	tagJPEGTables       = 347
	tagYCbCrSubSampling = 530
	tagPixelScale       = 33550 // ModelPixelScaleTag, OGC 19-008r4
	tagTiepoint         = 33922 // ModelTiepointTag
	tagTransformation   = 34264 // ModelTransformationTag
	tagGeoKeys          = 34735 // GeoKeyDirectoryTag
	tagGeoDoubles       = 34736 // GeoDoubleParamsTag
	tagGeoASCII         = 34737 // GeoAsciiParamsTag
	tagNoData           = 42113 // GDAL_NODATA
)

// Values of the tag Compression.
const (
	compNone       = 1
	compCCITT      = 2 // modified Huffman
	compG3         = 3
	compG4         = 4
	compLZW        = 5
	compOldJPEG    = 6
	compJPEG       = 7
	compDeflate    = 8
	compPackBits   = 32773
	compOldDeflate = 32946
)

// compressionName gives the encoding's name for people, "" for one unknown.
func compressionName(c int) string {
	switch c {
	case compNone:
		return "none"
	case compCCITT:
		return "CCITT modified Huffman"
	case compG3:
		return "CCITT group 3"
	case compG4:
		return "CCITT group 4"
	case compLZW:
		return "LZW"
	case compOldJPEG:
		return "old-style JPEG"
	case compJPEG:
		return "JPEG"
	case compDeflate, compOldDeflate:
		return "deflate"
	case compPackBits:
		return "PackBits"
	case 34712:
		return "JPEG 2000"
	case 34887:
		return "LERC"
	case 34925:
		return "LZMA"
	case 50000:
		return "Zstandard"
	case 50001:
		return "WebP"
	}
	return ""
}

// Values of the tag PhotometricInterpretation.
const (
	photoWhiteIsZero = 0
	photoBlackIsZero = 1
	photoRGB         = 2
	photoPalette     = 3
	photoMask        = 4
	photoSeparated   = 5
	photoYCbCr       = 6
)
