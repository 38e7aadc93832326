/**
 * What each shell has to be told. All three hand the words typed so far back to heldby, which knows the ledger; where it
 * has nothing to offer they fall back on file names.
 */
export const SCRIPTS: Readonly<Record<string, string>> = {
  bash: `# heldby for bash. Put this line in ~/.bashrc:  eval "$(heldby completion bash)"
_heldby() {
  local line
  COMPREPLY=()
  while IFS= read -r line; do COMPREPLY+=("$line"); done < <(heldby completion words bash -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -o default -F _heldby heldby`,
  zsh: `#compdef heldby
# heldby for zsh. Put this line in ~/.zshrc, behind compinit:  eval "$(heldby completion zsh)"
_heldby() {
  local -a found
  found=("\${(@f)$(heldby completion words zsh -- "\${(@Q)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n "\${found[1]}" ]]; then _describe -V heldby found; else _files; fi
}
compdef _heldby heldby`,
  fish: `# heldby for fish. Save as ~/.config/fish/completions/heldby.fish
function __heldby_complete
  set -l found (heldby completion words fish -- (commandline -opc)[2..] (commandline -ct) 2>/dev/null)
  if test (count $found) -gt 0
    printf '%s\\n' $found
  else
    __fish_complete_path (commandline -ct)
  end
end
complete -c heldby -f -a '(__heldby_complete)'`,
};

export const SHELLS: readonly string[] = Object.keys(SCRIPTS);
