# Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
function __fish_asfound_global_optspecs
    string join \n data= h/help V/version
end

function __fish_asfound_needs_command
    # Figure out if the current invocation already has a command.
    set -l cmd (commandline -opc)
    set -e cmd[1]
    argparse -s (__fish_asfound_global_optspecs) -- $cmd 2>/dev/null
    or return
    if set -q argv[1]
        # Also print the command, so this can be used to figure out what it is.
        echo $argv[1]
        return 1
    end
    return 0
end

function __fish_asfound_using_subcommand
    set -l cmd (__fish_asfound_needs_command)
    test -z "$cmd"
    and return 1
    contains -- $cmd[1] $argv
end

complete -c asfound -n "__fish_asfound_needs_command" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_needs_command" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_needs_command" -s V -l version -d 'Print version'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "demo" -d 'The invented rotor, with its history, ready to be inspected'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "practise" -d 'An invented rotor with hidden faults, to learn on'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "begin" -d 'Begin an inspection'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "resume" -d 'Go on with an inspection where somebody left'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "show" -d 'Print a record'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "check" -d 'Read every file and list all that is wrong'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "reckon" -d 'Any computation of the job, with its working'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "review" -d 'What waits for a decision; one record, to countersign or send back'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "verify" -d 'What holds of records, what was changed, whose signature is good'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "bring" -d 'Takes in a copy of a record that went on elsewhere, photos too'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "where" -d 'What an instrument touched, for the day it is found wrong'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "due" -d 'What is due next on every rotor, and why'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "trend" -d 'How a part wears, and whether it lasts to the next opening'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "fill" -d 'Fill in people, instruments, limits sheets, rotors, checklists'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "report" -d 'A record as HTML, to print, countersign and send'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "refer" -d 'What a record refers to the maker, with the evidence, as a letter'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "spares" -d 'What a record says is to be ordered'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "blank" -d 'The empty forms of a checklist as HTML, for use on paper'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "export" -d 'The records as tables, for an engine that analyses many'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "sheet" -d 'A limits sheet as a table for spreadsheets, out and in'
complete -c asfound -n "__fish_asfound_needs_command" -f -a "checklist" -d 'A checklist of your own, begun as a copy'
complete -c asfound -n "__fish_asfound_using_subcommand demo" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand demo" -l fresh -d 'Set the former one aside and start again; asks first'
complete -c asfound -n "__fish_asfound_using_subcommand demo" -l typed -d 'Fill in the present readings as a key script would'
complete -c asfound -n "__fish_asfound_using_subcommand demo" -l plain -d 'Line by line, without a screen'
complete -c asfound -n "__fish_asfound_using_subcommand demo" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand practise" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand practise" -l bench -d 'Print what the gauges show and the eye sees'
complete -c asfound -n "__fish_asfound_using_subcommand practise" -l debrief -d 'Print what was hidden beside what was found'
complete -c asfound -n "__fish_asfound_using_subcommand practise" -l plain -d 'Line by line, without a screen'
complete -c asfound -n "__fish_asfound_using_subcommand practise" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l serial -d 'Serial number, typed from the part' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l by -d 'Who begins, by id' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l hours -d 'Hours of the machine, such as `48480`' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l part-hours -d 'Of parts: `bush.ts 9000`, `as known` or `later`' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l checklist -d 'Which checklist' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l reason -d 'Why it is opened' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l arrives -d 'How it comes: `in place`, cartridge, stripped' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l manual -d 'Title of the manual on the bench' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l edition -d 'Its edition, looked up today' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l letters -d 'Service letters looked up, or `no letters`' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l next-hours -d 'Machine hours planned for the next opening' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l next-date -d 'The day planned for it' -r
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l later -d 'Other answers later, the checklist overhaul'
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l invented -d 'A new rotor is invented; everything says so'
complete -c asfound -n "__fish_asfound_using_subcommand begin" -l plain -d 'Line by line, without a screen'
complete -c asfound -n "__fish_asfound_using_subcommand begin" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand resume" -l by -d 'Who stands for what is entered, by id; else who worked last' -r
complete -c asfound -n "__fish_asfound_using_subcommand resume" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand resume" -l plain -d 'Line by line, without a screen'
complete -c asfound -n "__fish_asfound_using_subcommand resume" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand show" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand show" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand show" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand check" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand check" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand check" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand reckon" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand reckon" -l json -d 'Print the result for programs, with all digits'
complete -c asfound -n "__fish_asfound_using_subcommand reckon" -s h -l help -d 'What the reckoning takes and gives, and a worked example'
complete -c asfound -n "__fish_asfound_using_subcommand review" -l as -d 'Who reviews; needed to countersign line by line' -r
complete -c asfound -n "__fish_asfound_using_subcommand review" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand review" -l plain -d 'Line by line, without a screen'
complete -c asfound -n "__fish_asfound_using_subcommand review" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand verify" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand verify" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand verify" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand bring" -l as -d 'Who brings it; else who made the last entry here' -r
complete -c asfound -n "__fish_asfound_using_subcommand bring" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand bring" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand where" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand where" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand where" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand due" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand due" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand due" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand trend" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand trend" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand trend" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand fill" -l second -d 'A sheet typed again, blind, by this person' -r
complete -c asfound -n "__fish_asfound_using_subcommand fill" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand fill" -l plain -d 'Line by line, without a screen'
complete -c asfound -n "__fish_asfound_using_subcommand fill" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand report" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand report" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand refer" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand refer" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand refer" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand spares" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand spares" -l json -d 'For programs'
complete -c asfound -n "__fish_asfound_using_subcommand spares" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand blank" -l machine -d 'Levels of this machine, and only its own steps' -r
complete -c asfound -n "__fish_asfound_using_subcommand blank" -l rotor -d 'The same for this rotor, its id on every page' -r
complete -c asfound -n "__fish_asfound_using_subcommand blank" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand blank" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand export" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand export" -l csv -d 'CSV of one table; else newline JSON'
complete -c asfound -n "__fish_asfound_using_subcommand export" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and not __fish_seen_subcommand_from export import" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and not __fish_seen_subcommand_from export import" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and not __fish_seen_subcommand_from export import" -f -a "export" -d 'Print a sheet as CSV; semicolons where the settings say decimal comma'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and not __fish_seen_subcommand_from export import" -f -a "import" -d 'Show what a table would change, and change it after yes'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from export" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from export" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from import" -l by -d 'Who typed the table, by id or name; else it is asked' -r
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from import" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from import" -l yes -d 'Change it without asking'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from import" -l json -d 'For programs; nothing is changed without `--yes`'
complete -c asfound -n "__fish_asfound_using_subcommand sheet; and __fish_seen_subcommand_from import" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand checklist; and not __fish_seen_subcommand_from copy" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand checklist; and not __fish_seen_subcommand_from copy" -s h -l help -d 'Print help'
complete -c asfound -n "__fish_asfound_using_subcommand checklist; and not __fish_seen_subcommand_from copy" -f -a "copy" -d 'Copy one into the data folder, comments kept'
complete -c asfound -n "__fish_asfound_using_subcommand checklist; and __fish_seen_subcommand_from copy" -l data -d 'Data folder; else `ASFOUND_DATA` or the usual' -r -F
complete -c asfound -n "__fish_asfound_using_subcommand checklist; and __fish_seen_subcommand_from copy" -s h -l help -d 'Print help'
