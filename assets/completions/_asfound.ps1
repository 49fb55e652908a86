
using namespace System.Management.Automation
using namespace System.Management.Automation.Language

Register-ArgumentCompleter -Native -CommandName 'asfound' -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)

    $commandElements = $commandAst.CommandElements
    $command = @(
        'asfound'
        for ($i = 1; $i -lt $commandElements.Count; $i++) {
            $element = $commandElements[$i]
            if ($element -isnot [StringConstantExpressionAst] -or
                $element.StringConstantType -ne [StringConstantType]::BareWord -or
                $element.Value.StartsWith('-') -or
                $element.Value -eq $wordToComplete) {
                break
        }
        $element.Value
    }) -join ';'

    $completions = @(switch ($command) {
        'asfound' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('demo', 'demo', [CompletionResultType]::ParameterValue, 'The invented rotor, with its history, ready to be inspected')
            [CompletionResult]::new('practise', 'practise', [CompletionResultType]::ParameterValue, 'An invented rotor with hidden faults, to learn on')
            [CompletionResult]::new('begin', 'begin', [CompletionResultType]::ParameterValue, 'Begin an inspection')
            [CompletionResult]::new('resume', 'resume', [CompletionResultType]::ParameterValue, 'Go on with an inspection where somebody left')
            [CompletionResult]::new('show', 'show', [CompletionResultType]::ParameterValue, 'Print a record')
            [CompletionResult]::new('check', 'check', [CompletionResultType]::ParameterValue, 'Read every file and list all that is wrong')
            [CompletionResult]::new('reckon', 'reckon', [CompletionResultType]::ParameterValue, 'Any computation of the job, with its working')
            [CompletionResult]::new('review', 'review', [CompletionResultType]::ParameterValue, 'What waits for a decision; one record, to countersign or send back')
            [CompletionResult]::new('verify', 'verify', [CompletionResultType]::ParameterValue, 'What holds of records, what was changed, whose signature is good')
            [CompletionResult]::new('bring', 'bring', [CompletionResultType]::ParameterValue, 'Takes in a copy of a record that went on elsewhere, photos too')
            [CompletionResult]::new('where', 'where', [CompletionResultType]::ParameterValue, 'What an instrument touched, for the day it is found wrong')
            [CompletionResult]::new('due', 'due', [CompletionResultType]::ParameterValue, 'What is due next on every rotor, and why')
            [CompletionResult]::new('trend', 'trend', [CompletionResultType]::ParameterValue, 'How a part wears, and whether it lasts to the next opening')
            [CompletionResult]::new('fill', 'fill', [CompletionResultType]::ParameterValue, 'Fill in people, instruments, limits sheets, rotors, checklists')
            [CompletionResult]::new('report', 'report', [CompletionResultType]::ParameterValue, 'A record as HTML, to print, countersign and send')
            [CompletionResult]::new('refer', 'refer', [CompletionResultType]::ParameterValue, 'What a record refers to the maker, with the evidence, as a letter')
            [CompletionResult]::new('spares', 'spares', [CompletionResultType]::ParameterValue, 'What a record says is to be ordered')
            [CompletionResult]::new('blank', 'blank', [CompletionResultType]::ParameterValue, 'The empty forms of a checklist as HTML, for use on paper')
            [CompletionResult]::new('export', 'export', [CompletionResultType]::ParameterValue, 'The records as tables, for an engine that analyses many')
            [CompletionResult]::new('sheet', 'sheet', [CompletionResultType]::ParameterValue, 'A limits sheet as a table for spreadsheets, out and in')
            [CompletionResult]::new('checklist', 'checklist', [CompletionResultType]::ParameterValue, 'A checklist of your own, begun as a copy')
            break
        }
        'asfound;demo' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--fresh', '--fresh', [CompletionResultType]::ParameterName, 'Set the former one aside and start again; asks first')
            [CompletionResult]::new('--typed', '--typed', [CompletionResultType]::ParameterName, 'Fill in the present readings as a key script would')
            [CompletionResult]::new('--plain', '--plain', [CompletionResultType]::ParameterName, 'Line by line, without a screen')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;practise' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--bench', '--bench', [CompletionResultType]::ParameterName, 'Print what the gauges show and the eye sees')
            [CompletionResult]::new('--debrief', '--debrief', [CompletionResultType]::ParameterName, 'Print what was hidden beside what was found')
            [CompletionResult]::new('--plain', '--plain', [CompletionResultType]::ParameterName, 'Line by line, without a screen')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;begin' {
            [CompletionResult]::new('--serial', '--serial', [CompletionResultType]::ParameterName, 'Serial number, typed from the part')
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who begins, by id')
            [CompletionResult]::new('--hours', '--hours', [CompletionResultType]::ParameterName, 'Hours of the machine, such as `48480`')
            [CompletionResult]::new('--part-hours', '--part-hours', [CompletionResultType]::ParameterName, 'Of parts: `bush.ts 9000`, `as known` or `later`')
            [CompletionResult]::new('--checklist', '--checklist', [CompletionResultType]::ParameterName, 'Which checklist')
            [CompletionResult]::new('--reason', '--reason', [CompletionResultType]::ParameterName, 'Why it is opened')
            [CompletionResult]::new('--arrives', '--arrives', [CompletionResultType]::ParameterName, 'How it comes: `in place`, cartridge, stripped')
            [CompletionResult]::new('--manual', '--manual', [CompletionResultType]::ParameterName, 'Title of the manual on the bench')
            [CompletionResult]::new('--edition', '--edition', [CompletionResultType]::ParameterName, 'Its edition, looked up today')
            [CompletionResult]::new('--letters', '--letters', [CompletionResultType]::ParameterName, 'Service letters looked up, or `no letters`')
            [CompletionResult]::new('--next-hours', '--next-hours', [CompletionResultType]::ParameterName, 'Machine hours planned for the next opening')
            [CompletionResult]::new('--next-date', '--next-date', [CompletionResultType]::ParameterName, 'The day planned for it')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--later', '--later', [CompletionResultType]::ParameterName, 'Other answers later, the checklist overhaul')
            [CompletionResult]::new('--invented', '--invented', [CompletionResultType]::ParameterName, 'A new rotor is invented; everything says so')
            [CompletionResult]::new('--plain', '--plain', [CompletionResultType]::ParameterName, 'Line by line, without a screen')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;resume' {
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who stands for what is entered, by id; else who worked last')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--plain', '--plain', [CompletionResultType]::ParameterName, 'Line by line, without a screen')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;show' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;check' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;reckon' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Print the result for programs, with all digits')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'What the reckoning takes and gives, and a worked example')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'What the reckoning takes and gives, and a worked example')
            break
        }
        'asfound;review' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who reviews; needed to countersign line by line')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--plain', '--plain', [CompletionResultType]::ParameterName, 'Line by line, without a screen')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;verify' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;bring' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who brings it; else who made the last entry here')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;where' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;due' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;trend' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;fill' {
            [CompletionResult]::new('--second', '--second', [CompletionResultType]::ParameterName, 'A sheet typed again, blind, by this person')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--plain', '--plain', [CompletionResultType]::ParameterName, 'Line by line, without a screen')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;report' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;refer' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;spares' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;blank' {
            [CompletionResult]::new('--machine', '--machine', [CompletionResultType]::ParameterName, 'Levels of this machine, and only its own steps')
            [CompletionResult]::new('--rotor', '--rotor', [CompletionResultType]::ParameterName, 'The same for this rotor, its id on every page')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;export' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--csv', '--csv', [CompletionResultType]::ParameterName, 'CSV of one table; else newline JSON')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;sheet' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('export', 'export', [CompletionResultType]::ParameterValue, 'Print a sheet as CSV; semicolons where the settings say decimal comma')
            [CompletionResult]::new('import', 'import', [CompletionResultType]::ParameterValue, 'Show what a table would change, and change it after yes')
            break
        }
        'asfound;sheet;export' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;sheet;import' {
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who typed the table, by id or name; else it is asked')
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('--yes', '--yes', [CompletionResultType]::ParameterName, 'Change it without asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'For programs; nothing is changed without `--yes`')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'asfound;checklist' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('copy', 'copy', [CompletionResultType]::ParameterValue, 'Copy one into the data folder, comments kept')
            break
        }
        'asfound;checklist;copy' {
            [CompletionResult]::new('--data', '--data', [CompletionResultType]::ParameterName, 'Data folder; else `ASFOUND_DATA` or the usual')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
    })

    $completions.Where{ $_.CompletionText -like "$wordToComplete*" } |
        Sort-Object -Property ListItemText
}
