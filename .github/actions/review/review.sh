#!/usr/bin/env bash
# Annotations to standard output; summary, comment and SARIF to files. Ends as the review does.
set -euo pipefail
work=$RUNNER_TEMP/zonecfg
mkdir -p "$work"
arguments=(--format github --force "--fail-on=$FAIL_ON")
for target in markdown=summary.md comment=comment.md sarif=findings.sarif; do
  arguments+=("--output=${target%%=*}=$work/${target#*=}")
done
if [ -n "$AGAINST" ]; then
  arguments+=("--against=$AGAINST" --fail-on-new)
fi
status=0
"$work/venv/bin/zonecfg" review "${arguments[@]}" -- "$SITE" || status=$?
if [ "$status" -lt 2 ]; then
  cat "$work/summary.md" >>"$GITHUB_STEP_SUMMARY"
  {
    echo "summary=$work/summary.md"
    echo "comment=$work/comment.md"
    echo "sarif=$work/findings.sarif"
  } >>"$GITHUB_OUTPUT"
fi
exit "$status"
