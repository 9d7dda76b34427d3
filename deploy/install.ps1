# Installs SetupAudit as a Windows service, or brings an installation up to this state. Run it as an administrator.
#
#   powershell -File install.ps1 -Published C:\setupaudit-published -Config C:\ProgramData\SetupAudit\shop.json
#
# It never touches an existing configuration or store. The account is the virtual one of the service: give
# "NT SERVICE\SetupAudit" the right to read the watched folders and to write the store's folder, and no other. For
# shares of other computers give the rights to this computer's account, or set an account of your own with sc.exe.
param(
    [Parameter(Mandatory = $true)][string]$Published,
    [string]$Config = "$env:ProgramData\SetupAudit\shop.json",
    [string]$Target = "$env:ProgramFiles\SetupAudit"
)
Set-StrictMode -Version Latest
$ErrorActionPreference = 'Stop'
$name = 'SetupAudit'
$program = Join-Path $Target 'setupaudit.exe'

if (-not (Test-Path (Join-Path $Published 'setupaudit.exe'))) { throw "no setupaudit.exe in ${Published}: publish it first" }
if (-not (Test-Path $Config)) {
    New-Item -ItemType Directory -Force (Split-Path $Config) | Out-Null
    Copy-Item (Join-Path $PSScriptRoot 'sample-shop.json') $Config
    Write-Output "wrote ${Config}: a made-up shop, to be changed before the first start"
}

& (Join-Path $Published 'setupaudit.exe') check --config $Config
if ($LASTEXITCODE -ne 0) { throw "the configuration has faults: nothing was changed" }

$service = Get-Service -Name $name -ErrorAction SilentlyContinue
$wasRunning = $null -ne $service -and $service.Status -eq 'Running'
if ($wasRunning) { Stop-Service -Name $name }
$before = "$Target.before"
if (Test-Path $Target) {
    if (Test-Path $before) { Remove-Item -Recurse -Force $before }
    Rename-Item $Target $before
}
Copy-Item -Recurse $Published $Target
if ($null -eq $service) {
    New-Service -Name $name -DisplayName 'SetupAudit, the audit trail of CNC setups' -StartupType Automatic `
        -BinaryPathName "`"$program`" run --config `"$Config`"" | Out-Null
    & sc.exe config $name obj= "NT SERVICE\$name" | Out-Null
    & sc.exe failure $name reset= 86400 actions= restart/5000/restart/15000/restart/45000 | Out-Null
    Write-Output "made the service $name; start it with: Start-Service $name"
}
if ($wasRunning) {
    try { Start-Service -Name $name }
    catch {
        Remove-Item -Recurse -Force $Target
        Rename-Item $before $Target
        Start-Service -Name $name
        throw "the new version does not come up; the one before runs again: $_"
    }
}
