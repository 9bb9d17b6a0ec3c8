#!/usr/bin/env node
import { Command } from 'commander';

const program = new Command('lacuna').description('Finds the blind spots under a ceiling.');
program.parse();
