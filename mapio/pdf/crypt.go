package pdf

import (
	"bytes"
	"crypto/aes"
	"crypto/cipher"
	"crypto/md5"
	"crypto/rc4"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/binary"
	"fmt"
)

// crypt opens the strings and streams of a document that anybody may read, but
// that is encrypted so that not everybody may change it (ISO 32000-2, 7.6). The
// renderer has shown before that no password is needed.
type crypt struct {
	key           []byte
	texts, stream method
}

// method is a way of encrypting.
type method int

const (
	plain  method = iota
	rc4Key        // V2
	aesKey        // AESV2: a key for each object
	aesAll        // AESV3: one key
)

// errCrypt stands for encryption that is not read here.
var errCrypt = fmt.Errorf("%w: it is encrypted in a way that is not read here; print it to an unprotected PDF", errDictionary)

// openCrypt prepares reading an encrypted document.
func (d *dictionary) openCrypt() error {
	if d.trailer["Encrypt"] == nil {
		return nil
	}
	dict, ok := d.dict(d.trailer["Encrypt"])
	if !ok || d.name(dict["Filter"]) != "Standard" {
		return errCrypt
	}
	version, _ := d.number(dict["V"])
	c := &crypt{texts: rc4Key, stream: rc4Key}
	switch version {
	case 1, 2:
	case 4, 5:
		c.texts, c.stream = d.method(dict, "StrF"), d.method(dict, "StmF")
	default:
		return errCrypt
	}
	if c.texts < 0 || c.stream < 0 {
		return errCrypt
	}
	var err error
	if version == 5 {
		c.key, err = d.fileKey(dict)
	} else {
		c.key, err = d.oldFileKey(dict, version)
	}
	d.crypt = c
	return err
}

// method is that of a crypt filter; -1 for one that is not known.
func (d *dictionary) method(dict dictObject, which nameObject) method {
	name := d.name(dict[which])
	if name == "" || name == "Identity" {
		return plain
	}
	filters, _ := d.dict(dict["CF"])
	filter, _ := d.dict(filters[nameObject(name)])
	switch d.name(filter["CFM"]) {
	case "None":
		return plain
	case "V2":
		return rc4Key
	case "AESV2":
		return aesKey
	case "AESV3":
		return aesAll
	}
	return -1
}

// bytesOf is a text as it is written, "" where it is none or too short.
func (d *dictionary) bytesOf(o object, n int) []byte {
	t, _ := d.resolve(o).(textObject)
	if len(t) < n {
		return nil
	}
	return []byte(t)
}

// padding stands for a password that is not there (ISO 32000-2, 7.6.4.3.2).
const padding = "\x28\xBF\x4E\x5E\x4E\x75\x8A\x41\x64\x00\x4E\x56\xFF\xFA\x01\x08" +
	"\x2E\x2E\x00\xB6\xD0\x68\x3E\x80\x2F\x0C\xA9\xFE\x64\x53\x69\x7A"

// oldFileKey is algorithm 2, for the empty password.
func (d *dictionary) oldFileKey(dict dictObject, version float64) ([]byte, error) {
	owner := d.bytesOf(dict["O"], 32)
	rights, ok := d.number(dict["P"])
	revision, _ := d.number(dict["R"])
	long := 5
	if bits, given := d.number(dict["Length"]); given && version != 1 {
		long = int(bits) / 8
	}
	if version == 4 {
		long = 16
	}
	if owner == nil || !ok || long < 5 || long > 16 {
		return nil, errCrypt
	}
	text := append([]byte(padding), owner[:32]...)
	text = binary.LittleEndian.AppendUint32(text, uint32(int64(rights)))
	if ids, ok := d.array(d.trailer["ID"]); ok && len(ids) > 0 {
		text = append(text, d.bytesOf(ids[0], 0)...)
	}
	if clear, given := d.resolve(dict["EncryptMetadata"]).(bool); given && !clear && revision >= 4 {
		text = append(text, 0xff, 0xff, 0xff, 0xff)
	}
	sum := md5.Sum(text)
	for range 50 {
		if revision >= 3 {
			sum = md5.Sum(sum[:long])
		}
	}
	return bytes.Clone(sum[:long]), nil
}

// fileKey is algorithm 2.A, for the empty password.
func (d *dictionary) fileKey(dict dictObject) ([]byte, error) {
	user, wrapped := d.bytesOf(dict["U"], 48), d.bytesOf(dict["UE"], 32)
	if user == nil || wrapped == nil {
		return nil, errCrypt
	}
	revision, _ := d.number(dict["R"])
	salt := user[40:48]
	first := sha256.Sum256(salt)
	key := first[:]
	if revision != 5 {
		key = hardened(key)
	}
	block, err := aes.NewCipher(key)
	if err != nil {
		return nil, errCrypt
	}
	out := make([]byte, 32)
	cipher.NewCBCDecrypter(block, make([]byte, 16)).CryptBlocks(out, wrapped[:32])
	return out, nil
}

// hardened is algorithm 2.B, for the empty password.
func hardened(k []byte) []byte {
	last := 0
	for i := 0; i < 64 || last > i-32; i++ {
		e := bytes.Repeat(k, 64)
		block, err := aes.NewCipher(k[:16])
		if err != nil {
			panic(err) // the key is 16 bytes long
		}
		cipher.NewCBCEncrypter(block, k[16:32]).CryptBlocks(e, e)
		rest := 0
		for _, b := range e[:16] {
			rest += int(b)
		}
		switch rest % 3 {
		case 0:
			sum := sha256.Sum256(e)
			k = sum[:]
		case 1:
			sum := sha512.Sum384(e)
			k = sum[:]
		default:
			sum := sha512.Sum512(e)
			k = sum[:]
		}
		last = int(e[len(e)-1])
	}
	return k[:32]
}

// opened is an object with its texts in the clear.
func (c *crypt) opened(n reference, o object) object {
	switch v := o.(type) {
	case textObject:
		return textObject(c.clear(c.texts, n, []byte(v)))
	case arrayObject:
		for i := range v {
			v[i] = c.opened(n, v[i])
		}
	case dictObject:
		for key := range v {
			v[key] = c.opened(n, v[key])
		}
	}
	return o
}

// clear opens what belongs to the object with a number (algorithms 1 and 1.A).
// What cannot be opened is nothing.
func (c *crypt) clear(how method, n reference, data []byte) []byte {
	key := c.key
	if how == rc4Key || how == aesKey {
		text := bytes.Clone(key)
		text = append(text, byte(n.number), byte(n.number>>8), byte(n.number>>16), byte(n.generation), byte(n.generation>>8))
		if how == aesKey {
			text = append(text, "sAlT"...)
		}
		sum := md5.Sum(text)
		key = sum[:min(len(c.key)+5, 16)]
	}
	switch how {
	case rc4Key:
		cipher, err := rc4.NewCipher(key)
		if err != nil {
			return nil
		}
		cipher.XORKeyStream(data, data)
		return data
	case aesKey, aesAll:
		return unchained(key, data)
	}
	return data
}

// unchained opens what AES encrypted in a chain of blocks, the first of which
// starts it and the last of which says how much of it is filling.
func unchained(key, data []byte) []byte {
	block, err := aes.NewCipher(key)
	if err != nil || len(data) < 32 || len(data)%16 != 0 {
		return nil
	}
	out := data[16:]
	cipher.NewCBCDecrypter(block, data[:16]).CryptBlocks(out, out)
	return out[:max(0, len(out)-int(out[len(out)-1]))]
}
