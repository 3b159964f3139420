@echo off
rem Offers Bandwright for rings, for this person alone: in the menu of files whose name ends in .ring.json, and under
rem "Open with" of .json. What opens .json files otherwise stays as it is.  /remove takes all of it back.
setlocal
set "program=%~dp0bandwright.exe"
set "menu=HKCU\Software\Classes\SystemFileAssociations\.json\shell\Bandwright"
set "application=HKCU\Software\Classes\Applications\bandwright.exe"
if /i "%~1"=="/remove" (
    reg delete "%menu%" /f
    reg delete "%application%" /f
    exit /b
)
if not exist "%program%" (
    echo bandwright.exe is not beside this file.
    exit /b 2
)
reg add "%menu%" /ve /d "Open in Bandwright" /f
reg add "%menu%" /v AppliesTo /d "System.FileName:~>\".ring.json\"" /f
reg add "%menu%" /v Icon /d "\"%program%\"" /f
reg add "%menu%\command" /ve /d "\"%program%\" \"%%1\"" /f
reg add "%application%" /v FriendlyAppName /d "Bandwright" /f
reg add "%application%\SupportedTypes" /v .json /d "" /f
reg add "%application%\shell\open\command" /ve /d "\"%program%\" \"%%1\"" /f
