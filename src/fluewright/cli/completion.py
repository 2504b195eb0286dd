"""fluewright completion: scripts for bash, zsh and fish, made from the same table of verbs."""

import argparse
import json

from fluewright.cli.main import VERBS, parser_of


def _options(verb: str) -> list[str]:
    if verb == "completion":
        return ["--help"]
    return sorted({text for action in parser_of(verb)._actions for text in action.option_strings if text[:2] == "--"})


def bash() -> str:
    """A completion script for bash."""
    cases = "\n".join(f'    {verb}) words="{" ".join(_options(verb))}" ;;' for verb in VERBS)
    return f"""_fluewright() {{
  local words
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "{" ".join(VERBS)} --help --version" -- "${{COMP_WORDS[1]}}"))
    return
  fi
  case "${{COMP_WORDS[1]}}" in
{cases}
    *) words="" ;;
  esac
  COMPREPLY=($(compgen -W "$words" -- "${{COMP_WORDS[COMP_CWORD]}}"))
}}
complete -o default -F _fluewright fluewright
"""


def zsh() -> str:
    """A completion script for zsh, on top of the one for bash."""
    return "autoload -U +X bashcompinit && bashcompinit\n" + bash()


def fish() -> str:
    """A completion script for fish."""
    lines = ["complete -c fluewright -f"]
    for verb, words in VERBS.items():
        lines.append(f"complete -c fluewright -n __fish_use_subcommand -a {verb} -d '{words.replace(chr(39), '')}'")
        lines += [
            f"complete -c fluewright -n '__fish_seen_subcommand_from {verb}' -l {option[2:]} -F"
            for option in _options(verb)
        ]
    return "\n".join(lines) + "\n"


SHELLS = {"bash": bash, "zsh": zsh, "fish": fish}


def add(parser: argparse.ArgumentParser) -> None:
    """Which shell."""
    parser.add_argument("shell", choices=sorted(SHELLS), help="bash, zsh or fish")


def run(args: argparse.Namespace) -> int:
    """Print the script."""
    script = SHELLS[args.shell]()
    print(json.dumps({"shell": args.shell, "script": script}) if args.json else script.rstrip("\n"))
    return 0
