; The installer for Windows, for one person, without administrator's rights. The task
; "package" fills in VERSION, the list of files and where they lie:
;   makensis -DVERSION=… -DSOURCE=… -DICON=… -DPICTURE=… -DKILOBYTES=… -DOUT=… legwright.nsi
Unicode true
Target amd64-unicode
ManifestDPIAware true
RequestExecutionLevel user
SetCompressor /SOLID lzma
SetDateSave on

!include MUI2.nsh
!include "${SOURCE}.nsh" ; InstallFiles and DeleteFiles, one line for each file

Name "Legwright"
OutFile "${OUT}"
InstallDir "$LOCALAPPDATA\Programs\Legwright"
BrandingText "Legwright ${VERSION}"
VIProductVersion "${VERSION}.0"
VIAddVersionKey ProductName "Legwright"
VIAddVersionKey FileDescription "Legwright installer"
VIAddVersionKey FileVersion "${VERSION}"
VIAddVersionKey ProductVersion "${VERSION}"
VIAddVersionKey LegalCopyright ""

!define CLASSES "Software\Classes"
!define ENTRY "Software\Microsoft\Windows\CurrentVersion\Uninstall\Legwright"
!define MUI_ICON "${ICON}"
!define MUI_UNICON "${ICON}"
!define MUI_WELCOMEFINISHPAGE_BITMAP "${PICTURE}"
!define MUI_WELCOMEPAGE_TEXT "This installs Legwright ${VERSION} for you alone, in $INSTDIR.$\r$\n$\r$\nLegwright is a planning aid. Carry a paper map and a compass and know how to use both. Check every bearing by eye against the map; the ground, the weather, local rules and a qualified leader overrule whatever it says."
!define MUI_FINISHPAGE_RUN "$INSTDIR\legwright.exe"
!define MUI_FINISHPAGE_RUN_PARAMETERS "demo"
!define MUI_FINISHPAGE_RUN_TEXT "Open Legwright on the demo"
!insertmacro MUI_PAGE_WELCOME
!insertmacro MUI_PAGE_INSTFILES
!insertmacro MUI_PAGE_FINISH
!insertmacro MUI_UNPAGE_CONFIRM
!insertmacro MUI_UNPAGE_INSTFILES
!insertmacro MUI_LANGUAGE "English"

; Kind makes files of one ending open by double click.
!macro Kind ENDING CLASS NAME
	WriteRegStr HKCU "${CLASSES}\${ENDING}" "" "${CLASS}"
	WriteRegStr HKCU "${CLASSES}\${CLASS}" "" "${NAME}"
	WriteRegStr HKCU "${CLASSES}\${CLASS}\DefaultIcon" "" "$INSTDIR\legwright.exe,0"
	WriteRegStr HKCU "${CLASSES}\${CLASS}\shell\open\command" "" '"$INSTDIR\legwright.exe" "%1"'
!macroend

; ForgetKind leaves an ending alone that another program has taken since.
!macro ForgetKind ENDING CLASS
	ReadRegStr $0 HKCU "${CLASSES}\${ENDING}" ""
	StrCmp $0 "${CLASS}" 0 +2
	DeleteRegKey HKCU "${CLASSES}\${ENDING}"
	DeleteRegKey HKCU "${CLASSES}\${CLASS}"
!macroend

; Refresh makes the desktop read the kinds of files again (SHCNE_ASSOCCHANGED).
!macro Refresh
	System::Call "shell32::SHChangeNotify(i 0x08000000, i 0, p 0, p 0)"
!macroend

Section
	!insertmacro InstallFiles
	SetOutPath "$INSTDIR"
	WriteUninstaller "$INSTDIR\uninstall.exe"
	CreateShortcut "$SMPROGRAMS\Legwright.lnk" "$INSTDIR\legwright.exe"
	!insertmacro Kind .legplan Legwright.Plan "Legwright plan"
	!insertmacro Kind .legpack Legwright.Pack "Legwright packed plan"
	WriteRegStr HKCU "${ENTRY}" DisplayName "Legwright"
	WriteRegStr HKCU "${ENTRY}" DisplayVersion "${VERSION}"
	WriteRegStr HKCU "${ENTRY}" DisplayIcon "$INSTDIR\legwright.exe"
	WriteRegStr HKCU "${ENTRY}" InstallLocation "$INSTDIR"
	WriteRegStr HKCU "${ENTRY}" UninstallString '"$INSTDIR\uninstall.exe"'
	WriteRegStr HKCU "${ENTRY}" QuietUninstallString '"$INSTDIR\uninstall.exe" /S'
	WriteRegDWORD HKCU "${ENTRY}" EstimatedSize ${KILOBYTES}
	WriteRegDWORD HKCU "${ENTRY}" NoModify 1
	WriteRegDWORD HKCU "${ENTRY}" NoRepair 1
	!insertmacro Refresh
SectionEnd

; Only what the installer and the program wrote is deleted, by name: a plan stays wherever
; it was saved. Without a person to ask, settings and unsaved work stay too.
Section Uninstall
	!insertmacro DeleteFiles
	Delete "$INSTDIR\uninstall.exe"
	RMDir "$INSTDIR"
	Delete "$SMPROGRAMS\Legwright.lnk"
	!insertmacro ForgetKind .legplan Legwright.Plan
	!insertmacro ForgetKind .legpack Legwright.Pack
	DeleteRegKey HKCU "${ENTRY}"
	!insertmacro Refresh
	MessageBox MB_YESNO|MB_ICONQUESTION|MB_DEFBUTTON2 "Your plans stay where you saved them.$\r$\n$\r$\nDelete settings, stored pictures, the people you let Legwright remember, and work that you have not saved?" /SD IDNO IDNO keep
	RMDir /r "$APPDATA\legwright\journal"
	RMDir /r "$PROFILE\.local\state\legwright"
	Delete "$APPDATA\legwright\people.json"
	Delete "$APPDATA\legwright\known-plans"
	RMDir "$APPDATA\legwright"
	RMDir /r "$APPDATA\fyne\legwright.bench"
	RMDir "$APPDATA\fyne"
	RMDir /r "$LOCALAPPDATA\legwright\pdf"
	RMDir /r "$LOCALAPPDATA\legwright\papers"
	Delete "$LOCALAPPDATA\legwright\*.sheet"
	Delete "$LOCALAPPDATA\legwright\*.mark"
	Delete "$LOCALAPPDATA\legwright\*.part"
	RMDir "$LOCALAPPDATA\legwright"
	keep:
SectionEnd
