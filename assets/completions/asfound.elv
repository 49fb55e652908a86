
use builtin;
use str;

set edit:completion:arg-completer[asfound] = {|@words|
    fn spaces {|n|
        builtin:repeat $n ' ' | str:join ''
    }
    fn cand {|text desc|
        edit:complex-candidate $text &display=$text' '(spaces (- 14 (wcswidth $text)))$desc
    }
    var command = 'asfound'
    for word $words[1..-1] {
        if (str:has-prefix $word '-') {
            break
        }
        set command = $command';'$word
    }
    var completions = [
        &'asfound'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
            cand demo 'The invented rotor, with its history, ready to be inspected'
            cand practise 'An invented rotor with hidden faults, to learn on'
            cand begin 'Begin an inspection'
            cand resume 'Go on with an inspection where somebody left'
            cand show 'Print a record'
            cand check 'Read every file and list all that is wrong'
            cand reckon 'Any computation of the job, with its working'
            cand review 'What waits for a decision; one record, to countersign or send back'
            cand verify 'What holds of records, what was changed, whose signature is good'
            cand bring 'Takes in a copy of a record that went on elsewhere, photos too'
            cand where 'What an instrument touched, for the day it is found wrong'
            cand due 'What is due next on every rotor, and why'
            cand trend 'How a part wears, and whether it lasts to the next opening'
            cand fill 'Fill in people, instruments, limits sheets, rotors, checklists'
            cand report 'A record as HTML, to print, countersign and send'
            cand refer 'What a record refers to the maker, with the evidence, as a letter'
            cand spares 'What a record says is to be ordered'
            cand blank 'The empty forms of a checklist as HTML, for use on paper'
            cand export 'The records as tables, for an engine that analyses many'
            cand sheet 'A limits sheet as a table for spreadsheets, out and in'
            cand checklist 'A checklist of your own, begun as a copy'
        }
        &'asfound;demo'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --fresh 'Set the former one aside and start again; asks first'
            cand --typed 'Fill in the present readings as a key script would'
            cand --plain 'Line by line, without a screen'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;practise'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --bench 'Print what the gauges show and the eye sees'
            cand --debrief 'Print what was hidden beside what was found'
            cand --plain 'Line by line, without a screen'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;begin'= {
            cand --serial 'Serial number, typed from the part'
            cand --by 'Who begins, by id'
            cand --hours 'Hours of the machine, such as `48480`'
            cand --part-hours 'Of parts: `bush.ts 9000`, `as known` or `later`'
            cand --checklist 'Which checklist'
            cand --reason 'Why it is opened'
            cand --arrives 'How it comes: `in place`, cartridge, stripped'
            cand --manual 'Title of the manual on the bench'
            cand --edition 'Its edition, looked up today'
            cand --letters 'Service letters looked up, or `no letters`'
            cand --next-hours 'Machine hours planned for the next opening'
            cand --next-date 'The day planned for it'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --later 'Other answers later, the checklist overhaul'
            cand --invented 'A new rotor is invented; everything says so'
            cand --plain 'Line by line, without a screen'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;resume'= {
            cand --by 'Who stands for what is entered, by id; else who worked last'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --plain 'Line by line, without a screen'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;show'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;check'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;reckon'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'Print the result for programs, with all digits'
            cand -h 'What the reckoning takes and gives, and a worked example'
            cand --help 'What the reckoning takes and gives, and a worked example'
        }
        &'asfound;review'= {
            cand --as 'Who reviews; needed to countersign line by line'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --plain 'Line by line, without a screen'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;verify'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;bring'= {
            cand --as 'Who brings it; else who made the last entry here'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;where'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;due'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;trend'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;fill'= {
            cand --second 'A sheet typed again, blind, by this person'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --plain 'Line by line, without a screen'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;report'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;refer'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;spares'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --json 'For programs'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;blank'= {
            cand --machine 'Levels of this machine, and only its own steps'
            cand --rotor 'The same for this rotor, its id on every page'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;export'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --csv 'CSV of one table; else newline JSON'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;sheet'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
            cand export 'Print a sheet as CSV; semicolons where the settings say decimal comma'
            cand import 'Show what a table would change, and change it after yes'
        }
        &'asfound;sheet;export'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;sheet;import'= {
            cand --by 'Who typed the table, by id or name; else it is asked'
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand --yes 'Change it without asking'
            cand --json 'For programs; nothing is changed without `--yes`'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'asfound;checklist'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
            cand copy 'Copy one into the data folder, comments kept'
        }
        &'asfound;checklist;copy'= {
            cand --data 'Data folder; else `ASFOUND_DATA` or the usual'
            cand -h 'Print help'
            cand --help 'Print help'
        }
    ]
    $completions[$command]
}
