@echo off
rem Starts Secondpass. Builds it first where that was not done yet or the sources changed since; needs the .NET SDK and nothing else.
setlocal
set "root=%~dp0"
set "run=%root%artifacts\run"
set "DOTNET_NOLOGO=1"
set "DOTNET_CLI_TELEMETRY_OPTOUT=1"

where dotnet >nul 2>nul
if errorlevel 1 (
  echo secondpass: the .NET SDK is not installed, or dotnet is not on the PATH.>&2
  echo Install the .NET SDK 10, then start again.>&2
  exit /b 3
)

rem Names are handed over as environment variables: a path may hold any character.
powershell -NoProfile -Command "$c = Join-Path $env:run 'current'; if (!(Test-Path -LiteralPath $c)) { exit 1 }; $t = (Get-Item -LiteralPath $c).LastWriteTimeUtc; $s = 'src', 'demo', 'Directory.Build.props', 'Directory.Packages.props', 'global.json' | ForEach-Object { Join-Path $env:root $_ }; if (Get-Item -LiteralPath $s | Where-Object { $_.LastWriteTimeUtc -gt $t }) { exit 1 }; if (Get-ChildItem -Recurse -LiteralPath $s[0, 1] | Where-Object { $_.LastWriteTimeUtc -gt $t } | Select-Object -First 1) { exit 1 }"
if errorlevel 1 (
  call :build
  if errorlevel 1 exit /b 3
)

set "app="
set /p app=<"%run%\current"
dotnet "%run%\%app%\Secondpass.App.dll" %*
exit /b %errorlevel%

:build
echo Building Secondpass; this happens once, and again when its sources change ...>&2
set "name=app-%RANDOM%%RANDOM%%RANDOM%"
rem Two builds at once keep out of each other's way by a folder each.
set "obj=%run%\obj-%name%"
set "log=%run%\build-%name%.log"
if not exist "%run%" mkdir "%run%"
if errorlevel 1 (
  echo secondpass: can't write to "%root%artifacts": copy the folder to a place where you may write.>&2
  exit /b 1
)
set "ready=-p:PublishReadyToRun=true"
dotnet restore "%root%src\Secondpass.App" --use-current-runtime --artifacts-path "%obj%" %ready% -v quiet --nologo --disable-build-servers >"%log%" 2>&1
if not errorlevel 1 goto :publish
rem The compiler ahead of time is one more package: without it the program still runs, and starts slower.
set "ready="
dotnet restore "%root%src\Secondpass.App" --use-current-runtime --artifacts-path "%obj%" -v quiet --nologo --disable-build-servers >>"%log%" 2>&1
if errorlevel 1 goto :failed
:publish
dotnet publish "%root%src\Secondpass.App" --no-restore -c Release --use-current-runtime --self-contained false -p:RunAnalyzers=false -p:UseAppHost=false --artifacts-path "%obj%" %ready% -v quiet --nologo --disable-build-servers -o "%run%\%name%" >>"%log%" 2>&1
if errorlevel 1 goto :failed
>"%run%\current-%name%" echo %name%
move /y "%run%\current-%name%" "%run%\current" >nul
rmdir /s /q "%obj%"
del "%log%"
exit /b 0

:failed
type "%log%" >&2
echo secondpass: the build failed; its output stands above. It needs the .NET SDK 10 or newer.>&2
exit /b 1
