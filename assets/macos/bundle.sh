#!/bin/sh
# Makes out/packages/Legwright.app on a Mac, for its own processor. NOT TRIED: nobody has run
# it yet. Needs Go and the Xcode command line tools (xcode-select --install).
set -eu
cd "$(dirname "$0")/../.."
version=$(sed -n 's/^Version = "\(.*\)"$/\1/p' FyneApp.toml)
app=out/packages/Legwright.app/Contents
rm -rf out/packages/Legwright.app
mkdir -p "$app/MacOS" "$app/Resources"
go build -trimpath -ldflags '-s -w' -tags migrated_fynedo,no_emoji -o "$app/MacOS/legwright" ./cmd/legwright
cp -R assets/notices "$app/Resources/licences"
rm -f "$app"/Resources/licences/*.go

icons=$(mktemp -d)/legwright.iconset
mkdir "$icons"
for size in 16 32 128 256; do
	sips -z $size $size assets/look/icon.png --out "$icons/icon_${size}x${size}.png" >/dev/null
	sips -z $((2 * size)) $((2 * size)) assets/look/icon.png --out "$icons/icon_${size}x${size}@2x.png" >/dev/null
done
iconutil -c icns "$icons" -o "$app/Resources/legwright.icns"

cat >"$app/Info.plist" <<PLIST
<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0">
<dict>
	<key>CFBundleName</key><string>Legwright</string>
	<key>CFBundleIdentifier</key><string>local.legwright.bench</string>
	<key>CFBundleExecutable</key><string>legwright</string>
	<key>CFBundleIconFile</key><string>legwright</string>
	<key>CFBundlePackageType</key><string>APPL</string>
	<key>CFBundleShortVersionString</key><string>$version</string>
	<key>CFBundleVersion</key><string>$version</string>
	<key>NSHighResolutionCapable</key><true/>
</dict>
</plist>
PLIST
codesign --force --sign - out/packages/Legwright.app # for this Mac alone
echo "out/packages/Legwright.app"
